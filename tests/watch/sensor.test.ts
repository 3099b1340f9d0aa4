import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import { judged, plate240 } from './judged.ts';
import { quietSupply, type Synth, samples } from './synth.ts';

/** Two beads at 80 % of I1max, in closed form. */
const bench: Synth = {
  ...quietSupply,
  seconds: 6,
  arcs: [
    { startS: 1.2, endS: 2.9, amps: 24 },
    { startS: 3.9, endS: 5.4, amps: 24 },
  ],
  noiseVolts: 0.2,
  noiseAmps: 0.05,
};
const weak: Synth = { ...bench, ohmsR: 1.3 };
const circuit: Circuit = { name: 'bay', volts: 240, breakerAmps: 50 };

/** As a converter of 16 bits holds it. */
const counted = (each: Float64Array, range: number) =>
  each.map((value) => {
    const count = range / 32_767;
    return Math.max(-range, Math.min(range, Math.round(value / count) * count));
  });

const judge = (channels: readonly Float64Array[]) =>
  judged(bench.rateHz, channels, { plate: plate240, circuit });

function reasons({ findings, arcs }: Judgement): string[] {
  const all = [...findings, ...arcs.flatMap((arc) => arc.findings)];
  const doubts = all.filter(({ rule, required }) => rule === 'sensor' && required);
  return [...new Set(doubts.map(({ saying }) => saying!.name))];
}

function expectDoubt(judgement: Judgement, name: string) {
  expect(reasons(judgement)).toEqual([name]);
  expect(judgement.verdict).toBe('unproven');
  for (const { verdict } of judgement.arcs) expect(verdict).toBe('unproven');
}

describe('a sensor that lies proves nothing', () => {
  test('one that does not is not doubted, over a good and a weak supply', () => {
    for (const synth of [bench, weak]) {
      const [volts, amps] = samples(synth);
      const judgement = judge([counted(volts, 400), counted(amps, 60)]);
      expect(reasons(judgement)).toEqual([]);
      expect(judgement.verdict).toBe(synth === bench ? 'adequate' : 'underpowered');
    }
  });

  test.each([0.98, 0.93, 0.85, 0.7])('voltage cut off at %f of its crest', (part) => {
    const [volts, amps] = samples(weak);
    expectDoubt(judge([counted(volts, part * 339), amps]), 'clippedVolts');
  });

  test('current cut off while the arc burns, and not by a surge that was no arc', () => {
    const [volts, amps] = samples(bench);
    expectDoubt(judge([volts, counted(amps, 30)]), 'clippedAmps');
    const surge = { ...bench, arcs: [{ startS: 0.3, endS: 0.34, amps: 80 }, ...bench.arcs] };
    const [seenVolts, seenAmps] = samples(surge);
    const judgement = judge([seenVolts, counted(seenAmps, 50)]);
    expect(reasons(judgement)).toEqual([]);
    expect(judgement.verdict).toBe('adequate');
  });

  test('values that the recorder repeated in the middle of an arc', () => {
    const [volts, amps] = samples(bench);
    const at = Math.round(4.5 * bench.rateHz) + 30;
    volts.fill(volts[at]!, at, at + 3_000);
    const judgement = judge([volts, amps]);
    expect(reasons(judgement)).toEqual(['heldVolts']);
    expect(judgement.verdict).toBe('unproven');
    expect(judgement.arcs.map(({ verdict }) => verdict)).toEqual(['adequate', 'unproven']);
  });

  test('a clamp turned round', () => {
    const [volts, amps] = samples(bench);
    expectDoubt(judge([volts, amps.map((each) => -each)]), 'sensorReversed');
  });

  test('volts of one leg with amperes of another third of a turn away', () => {
    const [volts] = samples(bench);
    for (const away of [-2, 2]) {
      const [, amps] = samples({ ...bench, phase: bench.phase + (away * Math.PI) / 3 });
      const judgement = judge([volts, amps]);
      expect(judgement.verdict).toBe('unproven');
      // At −120° + 14° little power is left, and no arc is found at all.
      if (judgement.arcs.length > 0) expectDoubt(judgement, 'legsMixed');
    }
  });

  test('a current scale five times too large', () => {
    const [volts, amps] = samples({
      ...bench,
      arcs: bench.arcs.map((arc) => ({ ...arc, amps: 10 })),
    });
    expectDoubt(judge([volts, amps.map((each) => 5 * each)]), 'overPlate');
  });

  test('the same channel twice', () => {
    const [volts, amps] = samples(bench);
    const half = volts.map((each) => each / 2);
    expectDoubt(judge([half, amps, half, amps]), 'channelsAlike');
  });

  test('a voltage input that is not connected while current flows', () => {
    const [volts, amps] = samples(bench);
    const judgement = judge([volts.fill(0), amps]);
    expect(judgement.verdict).toBe('unproven');
  });

  test('a voltage scale five times off', () => {
    const [volts, amps] = samples(bench);
    const fifth = volts.map((each) => each / 5);
    const judgement = judged(bench.rateHz, [fifth, amps], { plate: plate240 });
    expect(reasons(judgement)).toContain('noSuchClass');
  });
});
