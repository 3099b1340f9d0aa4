import { describe, expect, test } from 'vitest';
import type { Plate } from '../../shared/protocol/plate.ts';
import { judged, plate120, plate240, verdictOf } from './judged.ts';

/**
 * A sine behind a resistance, in closed form: r.m.s. with no load over time, and arcs of 24 A.
 * Nothing of the project's own electrics.
 */
function record(openVolts: (atS: number) => number, arcs: readonly [number, number][]) {
  const rateHz = 5_120;
  const frames = 12 * rateHz;
  const [volts, amps] = [new Float64Array(frames), new Float64Array(frames)];
  for (let n = 0; n < frames; n++) {
    const atS = n / rateHz;
    const wave = Math.SQRT2 * Math.sin(2 * Math.PI * 60.01 * atS);
    const drawn = arcs.some(([from, to]) => atS >= from && atS < to) ? 24 : 0.3;
    amps[n] = drawn * wave;
    volts[n] = (openVolts(atS) - 0.1 * drawn) * wave;
  }
  return { rateHz, channels: [volts, amps] };
}
const arcs: [number, number][] = [
  [2, 4],
  [6, 8],
  [9, 11],
];
const judge = (plate: Plate, openVolts: (atS: number) => number, burns = arcs) => {
  const { rateHz, channels } = record(openVolts, burns);
  return judged(rateHz, channels, { plate });
};

describe('a recording of a machine on the wrong supply', () => {
  test.each([
    [plate120, 240],
    [plate120, 208],
    [plate240, 120],
    [plate240, 277],
  ])('is unsuited, in each arc and as a whole', (plate, volts) => {
    const judgement = judge(plate, () => volts);
    expect(judgement.verdict).toBe('unsuited');
    expect(judgement.arcs.map(({ verdict }) => verdict)).toEqual(arcs.map(() => 'unsuited'));
    expect(verdictOf(judgement, 'voltage-class')).toEqual(['unsuited']);
    expect(judgement.cautions[0]).toContain('Do not plug');
  });

  test('is unsuited before any arc', () => {
    const judgement = judge(plate120, () => 240, []);
    expect(judgement.arcs).toHaveLength(0);
    expect(judgement.verdict).toBe('unsuited');
  });

  test('208 V under 240 V is underpowered', () => {
    expect(judge(plate240, () => 208).verdict).toBe('underpowered');
  });

  test('a swell around the beginning of an arc is no other class of supply', () => {
    const swell = (from: number, to: number) => (atS: number) =>
      atS >= from && atS < to ? 290 : 240;
    for (const [from, to] of [
      [8.5, 9.5],
      [5.5, 6.5],
      [8.2, 8.9],
      [9.5, 10.5],
    ] as const) {
      const judgement = judge(plate240, swell(from, to));
      expect([from, verdictOf(judgement, 'voltage-class')]).toEqual([from, ['adequate']]);
      expect(judgement.arcs.filter(({ verdict }) => verdict === 'unsuited')).toEqual([]);
    }
  });

  test('a voltage that has gone up for good is told', () => {
    const judgement = judge(plate240, (atS) => (atS < 4.5 ? 240 : 275));
    expect(judgement.verdict).toBe('unsuited');
  });
});
