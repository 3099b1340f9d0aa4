import { describe, expect, test } from 'vitest';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { phases } from '../../shared/rules/phases.ts';
import { plate, setting } from '../rules/given.ts';
import { judged, plate120, plate240 } from './judged.ts';
import { quietSupply, samples } from './synth.ts';

/** Two legs of a split phase on a 240 V machine, at their worst moment. */
function legs(one: number, two: number, between = one + two, loops = [2]): Finding {
  const service = { arrangement: 'split-phase' as const, volts: [120, 120, 240] };
  const small = { ...plate, supply: [{ U1: 120, I1max: 20 }] };
  const of = setting({
    ...{ pairs: 2, loops, service, rated: loops[0] === 2 ? plate.supply[0]! : small.supply[0]! },
    plate: loops[0] === 2 ? plate : small,
  });
  return phases.ask({ ...of, phases: { volts: [one, two], between: [between], atS: 3 } })[0]!;
}

describe('the neutral of a split phase', () => {
  test('legs that part by more than 5 % are a stop', () => {
    expect(legs(120, 121).verdict).toBe('adequate');
    expect(legs(126, 114).verdict).toBe('marginal');
    expect(legs(131, 109).verdict).toBe('underpowered');
    expect(legs(109, 131).verdict).toBe('underpowered');
  });

  test('a leg out of 104 to 127 V is a stop while both together hold', () => {
    // 128 V and 116.5 V lie 4.7 % apart, and make 244.5 V.
    expect(legs(128, 116.5).verdict).toBe('underpowered');
    expect(legs(126.9, 117.4).verdict).toBe('adequate');
    // Both high: the service is, and no neutral fails.
    expect(legs(128, 128).verdict).toBe('adequate');
    // Both low under load: 103 V of 206 V.
    expect(legs(103, 103).verdict).toBe('adequate');
  });

  test('a weld across both legs has not tested it, and says so; one on a leg has', () => {
    expect(legs(120, 121).says).toContain('the neutral was not tested');
    expect(legs(120, 121, 241, [0]).says).not.toContain('not tested');
    expect(legs(131, 109).says).not.toContain('not tested');
  });
});

test('opposed steps speak when there are several, and few that are not', () => {
  const swung = (steps: number, correlation: number) => {
    const service = { arrangement: 'split-phase' as const, volts: [120, 120, 240] };
    const swing = { steps, volts: 4, correlation };
    const seen = { volts: [121, 119], between: [240], atS: 3, swing };
    return phases.ask({ ...setting({ pairs: 2, loops: [2], service }), phases: seen })[0]!;
  };
  expect(swung(3, -0.95).verdict).toBe('marginal');
  expect(swung(2, -0.95).verdict).toBe('adequate');
  expect(swung(3, -0.7).verdict).toBe('adequate');
});

/** Legs as loads on the first of them come and go, through so many ohms of neutral. */
function swinging(neutralOhms: number, legOhms: number, amps: number, opposite = true) {
  const onS = [1, 2.5, 4, 5.5, 7];
  const steps = (by: number) =>
    [{ atS: 0, factor: 1 }].concat(
      onS.flatMap((atS) => [
        { atS, factor: 1 + by / 120 },
        { atS: atS + 0.7, factor: 1 },
      ]),
    );
  const leg = (phase: number, by: number, seed: number) =>
    samples(
      {
        ...{ ...quietSupply, seconds: 8.5, volts: 120, ohmsR: 0.05, ohmsX: 0.01 },
        ...{ phase, arcs: [], noiseVolts: 0.05, steps: steps(by) },
      },
      seed,
    );
  const down = -(legOhms + neutralOhms) * amps;
  return [...leg(0.4, down, 1), ...leg(0.4 + Math.PI, opposite ? neutralOhms * amps : down, 2)];
}

describe('legs that move', () => {
  const found = (columns: Float64Array[], given = { plate: plate240 }) =>
    judged(10_240, columns, given).findings.find(({ rule }) => rule === 'phases')!;

  test('against each other, again and again: the neutral has resistance', () => {
    // 0.3 Ω and 14 A: one falls by 4.9 V, the other rises by 4.2 V; 3.8 % apart.
    for (const given of [{ plate: plate240 }, { plate: plate120 }]) {
      const finding = found(swinging(0.3, 0.05, 14), given);
      expect(finding.verdict).toBe('marginal');
      expect(finding.says).toMatch(/^\d+ times one leg rose as the other fell, by up to 4/);
    }
  });

  test('a healthy neutral lifts the other leg too, by less', () => {
    expect(found(swinging(0.03, 0.1, 25)).verdict).toBe('adequate');
  });

  test('together is the service, or a load across both', () => {
    expect(found(swinging(0.15, 0.15, 14, false)).verdict).toBe('adequate');
  });
});
