import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { SupplyEvidence, Work } from '../../shared/rules/facts.ts';
import { judgeArc } from '../../shared/rules/judge.ts';
import { output } from '../../shared/rules/output.ts';
import { arcWatts, weldAmpsOf } from '../../shared/rules/rated-output.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { arc, evidence, plate, setting, view } from './given.ts';

type Behaviour = SupplyEvidence['behaviour'];

/** A supply that gives just these volts at any load, known exactly. */
const stiff = (openVolts: number, behaviour: Behaviour = 'unknown'): SupplyEvidence => ({
  pairs: [view({ openVolts, openVoltsSd: 0, ohmsR: 0, ohmsX: 0, varianceR: 0, varianceX: 0 })],
  loaded: [3],
  behaviour,
});
const exactly = { volts: 0, halfCycleVolts: 0, amps: 0 };
const ask = (
  volts: number,
  behaviour: Behaviour,
  work: Partial<Work> | null = null,
  of: Partial<Plate> = {},
) => {
  const whole: Work | null = work && {
    ...{ process: 'mig-steel', wireInches: null, pulse: false },
    ...work,
  };
  const asked = setting({ plate: { ...plate, ...of }, accuracy: exactly, work: whole });
  return output.ask({ ...asked, supply: stiff(volts, behaviour) })[0]!;
};

describe('what a machine gives at a lower voltage', () => {
  // STANDARDS-2, 4.1: V² of an unregulated machine: 0.81 at −10 %, 0.75 at 208 on 240 V.
  test.each([
    [216, 0.81, 19],
    [208, 0.751, 25],
    [228, 0.9025, 10],
  ])('constant impedance at %i V of 240: %d of its power', (volts, left, less) => {
    const found = ask(volts, 'constant-impedance');
    expect(found.measured).toBeCloseTo(left, 3);
    expect(found.says).toContain(`${less} % less power`);
    expect(found.required).toBe(false);
    expect(found.verdict).toBe(volts < 216 ? 'marginal' : 'adequate');
    expect(found.electrician).toMatch(/must work; its rated output is not promised/);
  });

  test('constant power at −10 %: no loss, and 11 % more current', () => {
    const found = ask(216, 'constant-power');
    expect(found).toMatchObject({ verdict: 'adequate', required: false });
    expect(found.says).toMatch(/holds its output: at 216 V it would draw 33 A, 11 % more/);
    expect(ask(238, 'unknown').says).toMatch(/2 % less/);
    expect(ask(200, 'constant-power').says).toMatch(/under the 216 V from which it must work/);
  });

  test('not known: what it would lose, and held for neither', () => {
    const found = ask(216, 'unknown');
    expect(found).toMatchObject({ verdict: 'unproven', required: false });
    expect(found.says).toMatch(/If it is a transformer machine.*19 % less/);
  });

  test('at its rated voltage or above next to nothing is lost, and nothing gained', () => {
    for (const behaviour of ['constant-power', 'constant-impedance', 'unknown'] as const)
      for (const volts of [239, 240, 260])
        expect(ask(volts, behaviour)).toMatchObject({
          ...{ verdict: 'adequate', required: false, measured: null },
        });
  });

  test('the plate may say it; what loses output counts where the two differ', () => {
    const transformer = { behaviour: 'constant-impedance' } as const;
    const inverter = { behaviour: 'constant-power' } as const;
    expect(ask(216, 'unknown', null, transformer).says).toMatch(/19 % less/);
    expect(ask(216, 'unknown', null, inverter).says).toMatch(/holds its output/);
    expect(ask(216, 'constant-power', null, transformer).says).toMatch(/19 % less/);
    expect(ask(216, 'constant-impedance', null, inverter).says).toMatch(/19 % less/);
  });

  test('without a prediction the arc’s own lowest 200 ms, unless its samples were lost', () => {
    const unseen: SupplyEvidence = { pairs: [null], behaviour: 'constant-impedance' };
    const low = arc({ minVolts200ms: 216 });
    const asked = { ...setting({ accuracy: exactly }), supply: unseen };
    expect(output.ask({ ...asked, arc: low })[0]!.measured).toBeCloseTo(0.81, 6);
    expect(output.ask({ ...asked, arc: { ...low, lostFraction: 0.5 } })[0]!.verdict).toBe(
      'unproven',
    );
    expect(output.ask(asked)[0]).toMatchObject({ verdict: 'unproven', required: false });
  });

  test('no plate: not asked', () => {
    const bare = setting({ plate: null, rated: null });
    expect(output.ask({ ...bare, supply: stiff(240) })[0]).toMatchObject({
      ...{ verdict: 'unproven', required: false },
    });
  });
});

describe('the least output that a job names', () => {
  test('a share of the rated power', () => {
    const at = (volts: number) => ask(volts, 'constant-impedance', { leastOutput: 0.85 });
    // √0.85 of 240 V is 221.3 V.
    expect(at(222)).toMatchObject({ verdict: 'adequate', required: true, limit: 0.85 });
    expect(at(221)).toMatchObject({ verdict: 'underpowered', required: true });
    expect(ask(216, 'constant-power', { leastOutput: 1 }).verdict).toBe('adequate');
  });

  test('welding current, along the conventional load line of IEC 60974-1', () => {
    // 180 A at 23 V are 4140 W (STANDARDS, 4); 81 % of it is 3353 W, and 154.4 A at 21.7 V.
    expect(arcWatts(180)).toBeCloseTo(180 * 23, 9);
    expect(weldAmpsOf(arcWatts(130))).toBeCloseTo(130, 9);
    const found = ask(216, 'constant-impedance', { leastWeldAmps: 150 });
    expect(found.measured).toBeCloseTo(154.4, 1);
    expect(found).toMatchObject({ verdict: 'adequate', required: true, unit: 'A' });
    const missed = ask(216, 'constant-impedance', { leastWeldAmps: 160 });
    expect(missed.verdict).toBe('underpowered');
    expect(missed.says).toMatch(/at least 160 A of welding current; at 216 V.*no more than 154 A/);
  });

  test('the limit within the interval is marginal', () => {
    const asked = setting({
      plate: { ...plate, behaviour: 'constant-impedance' },
      work: { process: 'mig-steel', wireInches: null, pulse: false, leastOutput: 0.9 },
    });
    // 0.5 % of 228 V: 0.894 to 0.912 of its power.
    const [found] = output.ask({ ...asked, supply: stiff(228) });
    expect(found!.verdict).toBe('marginal');
    expect(found!.says).toMatch(/no more than 89 %/);
  });

  test('a machine that nobody knows proves no more than it would give at the worst', () => {
    expect(ask(216, 'unknown', { leastOutput: 0.8 })).toMatchObject({ verdict: 'adequate' });
    expect(ask(216, 'unknown', { leastOutput: 0.85 })).toMatchObject({
      ...{ verdict: 'unproven', required: true },
    });
    expect(ask(240, 'unknown', { leastWeldAmps: 200 }).verdict).toBe('underpowered');
    expect(ask(216, 'unknown', { leastWeldAmps: 200 }).verdict).toBe('underpowered');
    const bare = { ratings: [] };
    expect(ask(240, 'unknown', { leastWeldAmps: 100 }, bare)).toMatchObject({
      ...{ verdict: 'unproven', required: true },
    });
  });

  test('under its range a machine that holds its output proves nothing', () => {
    expect(ask(200, 'constant-power', { leastOutput: 0.9 })).toMatchObject({
      ...{ verdict: 'unproven', required: true },
    });
  });

  test('it holds down the verdict of the arc', () => {
    const transformer = { ...plate, behaviour: 'constant-impedance' as const };
    const verdict = (leastOutput: number | null) =>
      judgeArc(
        setting({
          plate: transformer,
          circuit: { name: 'c', volts: 240, dedicated: true },
          work: { process: 'mig-steel', wireInches: null, pulse: false, leastOutput },
        }),
        arc({ minVolts200ms: 225, minVoltsHalfCycle: 225 }),
        evidence({ supply: stiff(225, 'constant-impedance'), openVolts: 238 }),
      ).verdict;
    expect(verdict(null)).toBe('adequate');
    expect(verdict(0.8)).toBe('adequate');
    expect(verdict(0.95)).toBe('underpowered');
  });
});

test('one, two and three pairs: the same volts between terminals, the same output', () => {
  const found = [1, 2, 3].map((pairs) => {
    const loops = pairs === 3 ? [3, 4, 5] : [pairs - 1 + (pairs === 2 ? 1 : 0)];
    const ampsPerLine = pairs === 3 ? Math.sqrt(3) : 1;
    const one = stiff(216, 'constant-impedance').pairs[0]!;
    const supply: SupplyEvidence = {
      pairs: loops.map(() => one),
      behaviour: 'constant-impedance',
    };
    const asked = setting({ pairs, loops, ampsPerLine, accuracy: exactly });
    return output.ask({ ...asked, supply })[0]!.measured!;
  });
  for (const each of found) expect(each).toBeCloseTo(0.81, 9);
});

test('less voltage never improves what is said of the output', () => {
  const volts = fc.double({ min: 190, max: 265, noNaN: true });
  const behaviours = fc.constantFrom<Behaviour>(
    ...(['constant-power', 'constant-impedance', 'unknown'] as const),
  );
  const jobs = fc.constantFrom<Partial<Work>>(
    ...[{ leastOutput: 0.85 }, { leastOutput: 1 }, { leastWeldAmps: 170 }],
  );
  fc.assert(
    fc.property(volts, volts, behaviours, jobs, (a, b, behaviour, job) => {
      const [low, high] = [Math.min(a, b), Math.max(a, b)];
      expect(rank(ask(low, behaviour, job).verdict)).toBeGreaterThanOrEqual(
        rank(ask(high, behaviour, job).verdict),
      );
    }),
  );
});
