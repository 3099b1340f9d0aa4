import { effect } from '@preact/signals';
import type { History } from '../../../../shared/protocol/http.ts';
import type { LiveRows } from '../../../../shared/protocol/live-rows.ts';
import { isBroken } from '../../../../shared/protocol/verdicts.ts';
import { arcPage, history } from '../parts/api.ts';
import { type Break, broke, circuits, missed } from './floor-state.ts';

/** The server writes its history second by second, in chunks of two: then the gap is whole. */
const settleMs = 3_000;
/** As far back as a strip reaches, ms. */
const stripMs = 60_000;
/** Points drawn for one second of history: its lowest and its highest in turn. */
const perSecond = 20;
/** Pages of arcs counted for the "missed" line: beyond a thousand nobody counts. */
const mostPages = 5;
const pageLength = 200;

/** After a break asks the server for what went by meanwhile, and puts it where it belongs. */
export function keepGapsFilled(): void {
  effect(() => {
    const gap = broke.value;
    if (!gap) return;
    if (gap.moreArcs) void countArcs(gap);
    const wait = setTimeout(() => void fill(gap), settleMs);
    return () => clearTimeout(wait);
  });
}

/** One sensor after the other: the strips of the one looked at wait for no other's. */
async function fill(gap: Break): Promise<void> {
  const from = Math.max(gap.fromMs, gap.toMs - stripMs) - 1_000;
  for (const [id, { recent }] of circuits.value) {
    if (recent.newestMs === null) continue;
    try {
      const points = Math.ceil((gap.toMs + 1_000 - from) / 1_000);
      const ask = () => history(id, from, gap.toMs + 1_000, points);
      // The first may go out on a connection that the break has killed.
      const answer = await ask().catch(ask);
      if (broke.value !== gap) return;
      recent.fill(historyRows(answer));
    } catch {
      // The gap stays one, and is drawn as one.
    }
  }
}

async function countArcs(gap: Break): Promise<void> {
  let before: string | null = null;
  let [arcs, weak] = [0, 0];
  const from = new Date(gap.fromMs).toISOString();
  for (let page = 0; page < mostPages; page++) {
    const answer: Awaited<ReturnType<typeof arcPage>> = await arcPage({
      ...{ before, limit: pageLength },
    }).catch(() => ({ arcs: [], next: null }));
    const fresh = answer.arcs.filter((arc) => arc.endedAt > from);
    arcs += fresh.length;
    weak += fresh.filter((arc) => isBroken(arc.verdict)).length;
    before = answer.next;
    if (before === null || fresh.length < answer.arcs.length) break;
  }
  const told = missed.peek();
  if (told && arcs > told.arcs) missed.value = { ...told, arcs, weak };
}

/** Rows as a strip draws them, from history's lowest and highest of each second; no power. */
export function historyRows(answer: History): LiveRows {
  const from = Date.parse(answer.from);
  const count = answer.timeS.length * perSecond;
  const stepMs = (1_000 * answer.bucketS) / perSecond;
  const of = (least: (number | null)[], most: (number | null)[]) =>
    Float32Array.from(
      { length: count },
      (_, row) => (row % 2 === 0 ? least : most)[Math.floor(row / perSecond)] ?? Number.NaN,
    );
  const timeMs = Float64Array.from({ length: count }, (_, row) => from + (row + 0.5) * stepMs);
  const none = new Float32Array(count).fill(Number.NaN);
  return {
    ...{ slot: 0, timeMs, hertz: none },
    volts: answer.voltsMin.map((least, pair) => of(least, answer.voltsMax[pair]!)),
    amps: answer.ampsMin.map((least, pair) => of(least, answer.ampsMax[pair]!)),
    watts: answer.voltsMin.map(() => none),
  };
}
