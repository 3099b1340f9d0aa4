import type { JobView, SetUpView } from '../../../shared/protocol/http-jobs.ts';

const head = [
  ...['job', 'vehicle', 'set-up', 'process', 'joint', 'procedure', 'begun', 'ended'],
  ...['minutes', 'coupons', 'passed_coupon', 'passed_at'],
];

/** A line a set-up: its minutes apart from all other labour, to copy onto a bill (RFC 4180). */
export function jobTimes({ number, vehicle, all }: JobView): string {
  const lines = all.map((setUp) => [number, vehicle, ...lineOf(setUp)].map(cell).join(','));
  return [head.join(','), ...lines, ''].join('\r\n');
}

function lineOf({ id, sheet, begun, ended, clock, coupons }: SetUpView): string[] {
  const passed = coupons.findLast(({ decided }) => decided?.outcome === 'passed');
  return [
    String(id),
    sheet.work.process,
    sheet.work.joint,
    sheet.procedure.reference,
    begun.at,
    ended?.at ?? '',
    (clock.seconds / 60).toFixed(1),
    String(coupons.length),
    passed ? String(passed.id) : '',
    passed?.decided?.at ?? '',
  ];
}

/** A cell that a spreadsheet would take for a formula is given to it as text. */
function cell(text: string): string {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
