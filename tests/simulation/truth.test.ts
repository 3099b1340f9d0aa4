import { describe, expect, test } from 'vitest';
import type { Arc, Supply } from '../../shared/protocol/judgement.ts';
import type { TrueArc, TrueSupply } from '../../simulator/electrics/index.ts';
import { judgeScenario } from '../confusion/judge-scenario.ts';

/**
 * What is judged against what was true, over STIFFLINE_TRUTH_SEEDS seeds (3 unless set).
 *
 * Left out of the supply: loose-terminal, whose contact wanders by half its ohms within seconds;
 * no-strike, where no arc loads it; what comes after the neutral or a phase is lost, since the
 * estimate is of both supplies then. A generator's regulator is no impedance, and is refused.
 */
const seeds = Number(process.env.STIFFLINE_TRUTH_SEEDS ?? 3);
const runs = Array.from({ length: seeds }, (_, index) => index + 1);
const timeout = Math.max(180_000, 15_000 * seeds);

interface Record {
  scenario: string;
  seconds: number;
  bay?: string;
}
const steady: readonly Record[] = [
  { scenario: 'healthy-steel', seconds: 20 },
  { scenario: 'healthy-aluminium', seconds: 20 },
  { scenario: 'healthy-braze', seconds: 20 },
  { scenario: 'healthy-transformer', seconds: 20 },
  { scenario: 'healthy-bench', seconds: 20 },
  { scenario: 'harbour-lane', seconds: 20, bay: 'bay-1' },
  { scenario: 'harbour-lane', seconds: 20, bay: 'bay-2' },
  { scenario: 'long-thin-cord', seconds: 20 },
  { scenario: 'thin-branch', seconds: 20 },
  { scenario: 'shared-circuit', seconds: 24 },
  { scenario: '208-under-240', seconds: 20 },
  { scenario: 'light-bead', seconds: 20 },
  { scenario: 'cold-set-up', seconds: 36 },
  { scenario: 'hot-set-up', seconds: 36 },
  // Until what they are about happens, at 9 s.
  { scenario: 'open-neutral', seconds: 9 },
  { scenario: 'lost-phase', seconds: 9 },
];
const moving: readonly Record[] = [
  { scenario: 'loose-terminal', seconds: 20 },
  { scenario: 'no-strike', seconds: 20 },
];
const generators: readonly Record[] = [
  { scenario: 'weak-generator', seconds: 20 },
  { scenario: 'harbour-lane', seconds: 20, bay: 'yard' },
];

const nameOf = ({ scenario, bay = '' }: Record) => `${scenario} ${bay}`.trim();
const named = (records: readonly Record[]) =>
  records.map((record) => ({ name: nameOf(record), record }));

/** The truth lists arcs that have ended; the last tenths of a record may leave that open. */
const settledS = 0.2;
/** A bead's mean power; of a tack half a cycle more or less of it is left open by its borders. */
const wattsPart = 0.01;

function arcsAgree(found: readonly Arc[], real: readonly TrueArc[], { seconds }: Record): void {
  const settled = <T extends { endS: number }>(arcs: readonly T[]): T[] =>
    arcs.filter(({ endS }) => endS < seconds - settledS);
  const cycle = 1 / 60;
  const [ours, theirs] = [settled(found), settled(real)];
  expect(ours.map(({ startS }) => startS.toFixed(1))).toHaveLength(theirs.length);
  theirs.forEach(({ startS, endS, meanWatts }, n) => {
    const arc = ours[n]!;
    expect(Math.abs(arc.startS - startS)).toBeLessThan(cycle);
    expect(Math.abs(arc.endS - endS)).toBeLessThan(cycle);
    const watts = arc.channels.reduce((sum, channel) => sum + channel.meanWatts, 0);
    const part = wattsPart + cycle / 2 / (endS - startS);
    expect(Math.abs(watts / meanWatts - 1)).toBeLessThan(part);
  });
}

describe('arcs within a cycle, mean watts within 1 %', () => {
  test.each(named([...steady, ...moving, ...generators]))(
    '$name',
    ({ record }) => {
      for (const seed of runs) {
        const { scenario, seconds, bay } = record;
        const { judgement, truth } = judgeScenario(scenario, seed, seconds, bay);
        arcsAgree(judgement.arcs, truth.arcs, record);
      }
    },
    timeout,
  );
});

/** How far off in half-widths of the 95 % interval. */
const off = (value: number, [lo, hi]: [number, number], real: number): number =>
  Math.abs(value - real) / ((hi - lo) / 2);

function offOf(supply: Supply, real: TrueSupply): [number, number] {
  return [
    off(supply.ohmsR, supply.ohmsR95, real.ohmsR),
    off(supply.ohmsX, supply.ohmsX95, real.ohmsX),
  ];
}

test(
  'the supply lies within its 95 % interval, the sensor stated, as often as that says',
  () => {
    const all: { name: string; off: number }[] = [];
    for (const record of steady)
      for (const seed of runs) {
        const { scenario, seconds, bay } = record;
        const { judgement, truth } = judgeScenario(scenario, seed, seconds, bay, true);
        judgement.supply.forEach((supply, pair) => {
          const name = `${nameOf(record)}, seed ${seed}, pair ${pair + 1}`;
          expect(supply, name).not.toBeNull();
          const [r, x] = offOf(supply!, truth.supply[pair]!);
          all.push({ name: `${name}, R`, off: r }, { name: `${name}, X`, off: x });
        });
      }
    const outside = all.filter(({ off: by }) => by > 1);
    const said = outside.map(({ name, off: by }) => `${name}: ${by.toFixed(2)}`).join('\n');
    process.stdout.write(`${outside.length} of ${all.length} outside\n${said}\n`);
    expect(outside.length / all.length, said).toBeLessThanOrEqual(0.05);
    expect(Math.max(...all.map(({ off: by }) => by)), said).toBeLessThan(2);
  },
  timeout * 4,
);

test.each(named(generators))(
  'a regulator is no impedance: $name is refused',
  ({ record: { scenario, seconds, bay } }) => {
    for (const seed of runs)
      expect(judgeScenario(scenario, seed, seconds, bay).judgement.supply).toEqual([null]);
  },
  timeout,
);
