import { describe, expect, test } from 'vitest';
import type { GeneratorEvidence } from '../../shared/rules/facts.ts';
import { fullLoad } from '../../shared/rules/full-load.ts';
import { setting, supply } from './given.ts';

/** An engine that gives `volts` at `amps` in each loop, once its regulator has done its work. */
const engine = (volts: number, amps: number, loops = 1): GeneratorEvidence => ({
  hertzIdle: 60.5,
  hertzLow: 59.6,
  hertzHigh: 60.6,
  dip: 0.08,
  settled: Array.from({ length: loops }, () => ({ volts, amps })),
});

const ask = (generator: GeneratorEvidence, openVolts: number | null, change = {}) =>
  fullLoad.ask({ ...setting(change), supply: { ...supply(), generator }, openVolts })[0]!;

describe('full load on a generator', () => {
  test('an arc as heavy as the plate is judged by what it settled at', () => {
    expect(ask(engine(222, 30), 240)).toMatchObject({ verdict: 'adequate', measured: 222 });
    expect(ask(engine(212, 30), 240)).toMatchObject({ verdict: 'underpowered', measured: 212 });
  });

  test('what is missing to I1max is added in proportion to the fall from no load', () => {
    // 20 V at 27 A are 22.2 V at 30 A by the rule of three: 237 - 22.2 is under 216 + 0.5 %.
    const finding = ask(engine(217, 27), 237);
    expect(finding.measured).toBeCloseTo(237 - (20 * 30) / 27, 6);
    expect(finding.verdict).not.toBe('adequate');
  });

  test('over the full current nothing is given back', () => {
    expect(ask(engine(219, 36), 240).measured).toBe(219);
  });

  test('a generator that rises under load gets no more than was measured', () => {
    expect(ask(engine(230, 28), 226).measured).toBe(230);
  });

  test('a light arc proves nothing, in any of two or three loops', () => {
    expect(ask(engine(230, 20), 240).verdict).toBe('unproven');
    const two = engine(230, 30, 2);
    two.settled = [two.settled![0]!, { volts: 230, amps: 20 }];
    expect(ask(two, 240, { pairs: 2, loops: [0, 1] }).verdict).toBe('unproven');
    // A loop between lines of three phases carries √3 times a line's amperes.
    const three = { pairs: 3, loops: [3, 4, 5], ampsPerLine: Math.sqrt(3) };
    expect(ask(engine(230, 30, 3), 240, three).verdict).toBe('unproven');
    expect(ask(engine(230, 30 * Math.sqrt(3), 3), 240, three)).toMatchObject({
      verdict: 'adequate',
      measured: 230,
    });
  });
});
