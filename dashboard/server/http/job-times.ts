import type { JobView, SetUpView } from '../../../shared/protocol/http-jobs.ts';
import { csvLine } from './csv.ts';

const head = [
  ...['job', 'vehicle', 'set-up', 'process', 'joint', 'procedure', 'begun', 'ended'],
  ...['minutes', 'coupons', 'passed_coupon', 'passed_at'],
];

/** A line a set-up: its minutes apart from all other labour, to copy onto a bill. */
export function jobTimes({ number, vehicle, all }: JobView): string {
  return [head, ...all.map((setUp) => [number, vehicle, ...lineOf(setUp)])].map(csvLine).join('');
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
