import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Finding, Verdict } from '../../shared/protocol/judgement.ts';
import { cord, longestCords } from '../../shared/rules/cord.ts';
import { drop } from '../../shared/rules/drop.ts';
import { duty } from '../../shared/rules/duty.ts';
import type { OtherStep } from '../../shared/rules/facts.ts';
import { fullLoadVolts } from '../../shared/rules/foretell.ts';
import { fullLoad } from '../../shared/rules/full-load.ts';
import { heat } from '../../shared/rules/heat.ts';
import { judgeArc, judgeRecording, rules } from '../../shared/rules/judge.ts';
import { limits } from '../../shared/rules/limits.ts';
import { otherLoad } from '../../shared/rules/other-load.ts';
import { phases } from '../../shared/rules/phases.ts';
import { plateVoltage } from '../../shared/rules/plate-voltage.ts';
import { sag } from '../../shared/rules/sag.ts';
import { strikeVoltage } from '../../shared/rules/strike-voltage.ts';
import { supplyAmps } from '../../shared/rules/supply-amps.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { voltageClass } from '../../shared/rules/voltage-class.ts';
import { waveform } from '../../shared/rules/waveform.ts';
import { arc, evidence, otherStep, plate, setting, supply } from './given.ts';

const verdicts = (findings: Finding[]): Verdict[] => findings.map((each) => each.verdict);
const bay: Circuit = {
  name: 'bay 2',
  volts: 240,
  breakerAmps: 50,
  receptacleAmps: 50,
  dedicated: true,
  branch: { awg: 10, metal: 'copper', feet: 60 },
  cords: [{ awg: 12, feet: 25 }],
  sensorAt: 'outlet',
};

/** Between three phases 120° apart, by the law of cosines. */
const wyeLines = (a: number, b: number, c: number): [number, number, number] => {
  const side = (one: number, two: number) => Math.sqrt(one * one + two * two + one * two);
  return [side(a, b), side(b, c), side(c, a)];
};
/** A three-phase machine on 208Y/120. */
const three = {
  pairs: 3,
  loops: [3, 4, 5],
  ampsPerLine: Math.sqrt(3),
  plate: { ...plate, phases: 3 as const, supply: [{ U1: 208, I1max: 20 }] },
  rated: { U1: 208, I1max: 20 },
  service: { arrangement: 'three-phase' as const, volts: [120, 120, 120, 208, 208, 208] },
};

describe('sources', () => {
  test('every limit of every rule names where it stands', () => {
    for (const limit of Object.values(limits)) expect(limit.source).toMatch(/\w{4}/);
    for (const rule of rules) expect(rule.limits.length).toBeGreaterThan(0);
  });

  test('every finding names one, asked or not', () => {
    const cases = [
      setting(),
      setting({ plate: null, rated: null }),
      setting({ circuit: bay }),
      setting(three),
    ];
    for (const each of cases) {
      const all = [
        ...judgeArc(each, arc(), evidence()).findings,
        ...judgeRecording(each, evidence(), []).findings,
        ...judgeRecording(each, evidence({ supply: { pairs: [null], behaviour: 'unknown' } }), [])
          .findings,
      ];
      for (const finding of all) {
        expect(finding.source).toMatch(/\w{4}/);
        expect(finding.says).toMatch(/^[A-Z].*[.]$/);
      }
    }
  });

  test('the table of rules has each rule once', () => {
    const ids = rules.map((rule) => rule.id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(ids).toHaveLength(17);
  });
});

describe('plate-voltage', () => {
  const ask = (change: Parameters<typeof arc>[0], lost = 0, more = setting()) =>
    plateVoltage.ask({ ...more, arc: arc(change, lost) });

  test('holds the lowest 200 ms to U1 − 10 %', () => {
    expect(verdicts(ask({ minVolts200ms: 218 }))).toEqual(['adequate']);
    expect(verdicts(ask({ minVolts200ms: 216.5 }))).toEqual(['marginal']);
    expect(verdicts(ask({ minVolts200ms: 214 }))).toEqual(['underpowered']);
    expect(ask({ minVolts200ms: 214 })[0]).toMatchObject({ limit: 216, margin: -2, unit: 'V' });
  });

  test('holds the highest to U1 + 10 %', () => {
    expect(verdicts(ask({ idleVolts: 262 }))).toEqual(['adequate']);
    expect(verdicts(ask({ idleVolts: 270 }))).toEqual(['adequate', 'underpowered']);
  });

  test('is unproven where samples were lost, and required all the same', () => {
    const [finding] = ask({}, 0.05);
    expect(finding).toMatchObject({ verdict: 'unproven', required: true });
  });

  test('takes the cord off at an outlet; its interval holds the cord’s temperature', () => {
    const [bare] = ask({});
    const [corded] = ask({}, 0, setting({ circuit: bay }));
    expect(bare!.measured! - corded!.measured!).toBeGreaterThan(1.5);
    const width = ([lo, hi]: [number, number]) => hi - lo;
    expect(width(corded!.interval!)).toBeGreaterThan(width(bare!.interval!));
  });
});

test('strike-voltage: a dip at the strike fails, an unseen strike proves nothing', () => {
  const ask = (volts: number) =>
    strikeVoltage.ask({ ...setting(), arc: arc({ minVoltsHalfCycle: volts }) });
  expect(verdicts(ask(225))).toEqual(['adequate']);
  expect(verdicts(ask(216))).toEqual(['marginal']);
  expect(verdicts(ask(205))).toEqual(['underpowered']);
  const unseen = { ...arc(), strike: [null] };
  expect(strikeVoltage.ask({ ...setting(), arc: unseen })[0]).toMatchObject({
    verdict: 'unproven',
    required: true,
  });
});

test('full-load: lower end of the interval, thin evidence, light beads', () => {
  const ask = (change: Parameters<typeof supply>[0]) =>
    fullLoad.ask({ ...setting(), supply: supply(change) });
  expect(verdicts(ask({}))).toEqual(['adequate']);
  expect(verdicts(ask({ ohmsR: 0.72 }))).toEqual(['marginal']);
  expect(verdicts(ask({ ohmsR: 1 }))).toEqual(['underpowered']);
  expect(verdicts(ask({ largestStepAmps: 6 }))).toEqual(['unproven']);
  expect(verdicts(ask({ largestStepAmps: 6, ohmsR: 1 }))).toEqual(['underpowered']);
  const refused = { pairs: [null], behaviour: 'unknown' as const };
  expect(fullLoad.ask({ ...setting(), supply: refused })[0]).toMatchObject({
    verdict: 'unproven',
    required: true,
  });
});

test('sag: told with its category, never more than advice', () => {
  const worst = {
    startS: 3,
    durationS: 0.4,
    residualVolts: 150,
    referenceVolts: 240,
    category: 'instantaneous sag',
    duringArc: true,
  };
  const [finding] = sag.ask({
    ...setting(),
    sags: { count: 3, worst, strikes: { count: 0, worst: null } },
  });
  expect(finding).toMatchObject({ verdict: 'marginal', required: false, atS: [3, 3.4] });
  expect(finding!.says).toMatch(/150 V, 63 % of nominal.*instantaneous sag.*worst of 3/);
});

test('duty: over the plate is advice, over the wire is not', () => {
  const ask = (highestFraction: number | null, effectiveAmps: number | null, circuit?: Circuit) =>
    duty.ask({
      ...setting({ circuit: circuit ?? null }),
      duty: { highestFraction, effectiveAmps, atS: [0, 600] },
    });
  expect(ask(null, null)[0]).toMatchObject({ verdict: 'unproven', required: false });
  expect(verdicts(ask(0.25, 12))).toEqual(['adequate', 'adequate']);
  expect(verdicts(ask(0.5, 20))).toEqual(['marginal', 'marginal']);
  const thin = { ...bay, branch: { awg: 14, feet: 40 } };
  expect(verdicts(ask(0.25, 20, thin)).at(-1)).toBe('underpowered');
});

test('drop: 3 % and 5 % are advice', () => {
  const far = { ...bay, branch: { awg: 10, feet: 120 }, cords: [] };
  const found = drop.ask({ ...setting({ circuit: far }), supply: supply({ ohmsR: 0.5 }) });
  expect(verdicts(found)).toEqual(['marginal', 'marginal']);
  // 2 · 30 A · 120 ft · 1.24 Ω/kft over 240 V.
  expect(found[1]!.measured).toBeCloseTo(0.0372, 6);
});

describe('supply-amps', () => {
  const ask = (circuit: Circuit | null) => supplyAmps.ask(setting({ circuit }));

  test('is not asked of an undescribed circuit', () => {
    expect(ask(null)[0]).toMatchObject({ verdict: 'unproven', required: false });
  });

  test('the duty rule and the full-current rule stand side by side', () => {
    const found = ask({ name: 'c', volts: 240, branch: { awg: 12, feet: 50 } });
    expect(found.map((each) => [each.limit, each.verdict])).toEqual([
      [15, 'adequate'],
      [30, 'marginal'],
    ]);
    expect(found[1]!.source).toMatch(/1910[.]254/);
    expect(verdicts(ask({ name: 'c', volts: 240, branch: { awg: 16, feet: 50 } }))[0]).toBe(
      'underpowered',
    );
  });

  test('a breaker too small trips, one too large is told', () => {
    expect(verdicts(ask({ name: 'c', volts: 240, breakerAmps: 10 }))).toEqual([
      'underpowered',
      'marginal',
    ]);
    const large = ask({ name: 'c', volts: 240, breakerAmps: 90 });
    expect(large.at(-1)).toMatchObject({ limit: 60, verdict: 'marginal' });
    expect(large.every((each) => each.electrician?.match(/licensed electrician/))).toBe(true);
  });
});

test('cord: ampacity, share of the drop, and the longest that pass', () => {
  const found = cord.ask({ ...setting({ circuit: bay }), supply: supply() });
  expect(verdicts(found)).toEqual(['adequate', 'adequate']);
  expect(found[1]!.measured).toBeGreaterThan(0.4);
  const thin = { ...bay, cords: [{ awg: 16, feet: 25 }] };
  expect(verdicts(cord.ask({ ...setting({ circuit: thin }), supply: supply() }))[0]).toBe(
    'underpowered',
  );
  const fits = longestCords(setting(), plate.supply[0]!, supply());
  expect(fits.map((each) => each.awg)).toEqual([14, 12, 10, 8, 6]);
  for (const { awg = 0, feet = 0 } of fits) {
    const at = (long: number) =>
      fullLoad.ask({
        ...setting({ circuit: { name: 'c', volts: 240, cords: [{ awg, feet: long }] } }),
        supply: supply(),
      })[0]!.verdict;
    expect(at(feet)).toBe('adequate');
    if (feet < 325) expect(at(feet + 5)).not.toBe('adequate');
  }
});

test('cord: in the units of the circuit, and told where no cord is in use', () => {
  const metric = { name: 'c', volts: 240, branch: { mm2: 6, metres: 20 } };
  const fits = longestCords(setting({ circuit: metric }), plate.supply[0]!, supply());
  expect(fits.map((each) => each.mm2)).toEqual([1.5, 2.5, 4, 6, 10]);
  for (const { mm2 = 0, metres = 0 } of fits) {
    const at = (long: number) =>
      fullLoad.ask({
        ...setting({ circuit: { ...metric, cords: [{ mm2, metres: long }] } }),
        supply: supply(),
      })[0]!.verdict;
    expect(at(metres)).toBe('adequate');
    if (metres < 100) expect(at(metres + 1)).not.toBe('adequate');
  }
  const [found] = cord.ask({ ...setting({ circuit: metric }), supply: supply() });
  expect(found).toMatchObject({ measured: null, verdict: 'adequate' });
  expect(found!.says).toMatch(/^Longest that pass: 1.5 mm² \d+ m \(\d+ m for 5 %\),/);
});

test('cord: three phases take the three-conductor column, 12 AWG 20 A and not 25', () => {
  const rated = { U1: 208, I1max: 30, I1eff: 22 };
  const ask = (phases: 1 | 3, change: Partial<Circuit> = {}) =>
    cord.ask({
      ...setting({
        plate: { ...plate, phases, supply: [rated] },
        rated,
        circuit: { ...bay, phases, volts: 208, ...change },
      }),
      supply: supply({ openVolts: 208 }),
    })[0]!;
  expect(ask(1)).toMatchObject({ measured: 25, limit: 22, verdict: 'adequate' });
  expect(ask(3)).toMatchObject({ measured: 20, verdict: 'underpowered' });
  expect(ask(1, { neutralLoaded: true })).toMatchObject({ measured: 20 });
  // Heat by the effective current, and the full one beside it.
  expect(ask(1).says).toMatch(/22 A effective, and 30 A at full current/);
  expect(ask(1).electrician).toMatch(/by full current this one is too light/);
  const heavy = { cords: [{ awg: 8, feet: 25 }] };
  expect(ask(1, heavy).electrician).toMatch(/by full current this one is heavy enough too/);
});

test('cord: the longest for the usual 5 % stands beside the longest that passes', () => {
  const rated = plate.supply[0]!;
  for (const behaviour of ['constant-power', 'constant-impedance', 'unknown'] as const) {
    const seen = { ...supply(), behaviour };
    const open = 240;
    for (const { awg = 0, feet = 0, usual } of longestCords(setting(), rated, seen)) {
      const long = usual?.feet ?? 0;
      expect(long).toBeLessThanOrEqual(feet);
      const fall = (by: number) => {
        const cords = [{ awg, feet: by }];
        const asked = setting({ circuit: { name: 'c', volts: 240, cords } });
        return 1 - fullLoadVolts(asked, rated, seen)!.value / open;
      };
      expect(fall(long)).toBeLessThanOrEqual(0.05);
      if (long < 325) expect(fall(long + 5)).toBeGreaterThan(0.05);
    }
  }
  // 5.6 % is gone before any cord.
  const soft = longestCords(setting(), rated, supply({ ohmsR: 0.45 }));
  expect(soft.map(({ usual }) => usual)).toEqual(soft.map(() => null));
});

test('voltage-class: near, far, and by the work', () => {
  const ask = (openVolts: number | null, more: Parameters<typeof setting>[0] = {}) =>
    voltageClass.ask({ ...setting(more), openVolts });
  expect(verdicts(ask(238))).toEqual(['adequate']);
  expect(verdicts(ask(230))).toEqual(['adequate']);
  expect(verdicts(ask(220))).toEqual(['marginal']);
  expect(verdicts(ask(208))).toEqual(['underpowered']);
  expect(ask(208, { circuit: bay })[0]!.says).toMatch(/described as 240 V, measures as a 208 V/);
  expect(ask(null)[0]).toMatchObject({ verdict: 'unproven', required: false });
  const aluminium = { process: 'mig-aluminium' as const, wireInches: 0.047, pulse: true };
  expect(verdicts(ask(240, { work: aluminium }))).toEqual(['adequate', 'underpowered']);
  const light = { ...plate, supply: [{ U1: 120, I1max: 20 }] };
  const braze = { process: 'mig-braze' as const, wireInches: null, pulse: false };
  const found = ask(120, { plate: light, rated: light.supply[0]!, work: braze });
  expect(found.map((each) => each.says).join()).toMatch(/brazing needs.*200–240 V/);
});

test('phases: one pair cannot be compared; three may be unbalanced', () => {
  expect(phases.ask({ ...setting(), phases: null })[0]).toMatchObject({ required: false });
  const ask = (...volts: [number, number, number]) =>
    phases.ask({ ...setting(three), phases: { volts, between: wyeLines(...volts), atS: 2 } });
  expect(verdicts(ask(120, 119, 121))).toEqual(['adequate']);
  // 208 V, and twice 196: 3.9 % off their mean.
  expect(verdicts(ask(120, 106, 121))).toEqual(['marginal']);
  expect(verdicts(ask(120, 20, 121))).toEqual(['underpowered']);
  const single = setting({
    plate: { ...plate, phases: 3 },
    circuit: { name: 'c', volts: 240, phases: 1 },
  });
  expect(verdicts(phases.ask({ ...single, phases: null }))).toEqual(['unsuited']);
});

test('other-load: required on a dedicated circuit only, marginal at most by one sensor', () => {
  const ask = (circuit: Circuit | null, of: Partial<OtherStep>) =>
    otherLoad.ask({
      ...setting({ circuit }),
      others: { count: 2, worst: otherStep(of), searched: true },
    })[0]!;
  expect(ask(bay, { volts: -4 })).toMatchObject({ verdict: 'marginal', required: true });
  expect(ask(null, { volts: -4 })).toMatchObject({ verdict: 'marginal', required: false });
  // 1 % of 240 V is what a building does by itself, 4 % while a motor starts.
  for (const sign of [-1, 1]) {
    expect(ask(bay, { volts: 2.3 * sign }).verdict).toBe('adequate');
    expect(ask(bay, { volts: 2.5 * sign })).toMatchObject({ verdict: 'marginal', limit: 2.4 });
    expect(ask(bay, { volts: 1 * sign, surgeVolts: 9.5 * sign }).verdict).toBe('adequate');
    expect(ask(bay, { volts: 1 * sign, surgeVolts: 9.7 * sign }).verdict).toBe('marginal');
    expect(ask(bay, { volts: 0, surgeVolts: 60 * sign, stays: false }).verdict).toBe('adequate');
  }
});

test('other-load: what no load behind the breaker could make came from above', () => {
  const ask = (volts: number, breakerAmps?: number, ohms: number | null = 0.2) =>
    otherLoad.ask({
      ...setting({
        circuit: { name: 'b', volts: 240, dedicated: true, ...(breakerAmps && { breakerAmps }) },
      }),
      others: { count: 1, worst: otherStep({ volts, ohms }), searched: true },
    })[0]!;
  // 200 % of 30 A must trip within two minutes, and are 12 V over 0.2 Ω; the step is sure to 0.3 V.
  expect(ask(-12.2, 30).verdict).toBe('marginal');
  expect(ask(-12.4, 30)).toMatchObject({ verdict: 'adequate', required: true });
  expect(ask(-12.4, 30).says).toContain('30 A breaker');
  expect(ask(-12.4).verdict).toBe('marginal');
  expect(ask(-12.4, 30, null).verdict).toBe('marginal');
  // A load of 30 A and 6 V is told as amperes, one of 30.5 A in volts alone.
  expect(ask(-6, 30).electrician).toContain('30 A');
  expect(ask(-6.1, 30).electrician).not.toMatch(/\d A/);
});

test('waveform: a straying frequency and a bent wave are advice', () => {
  const ask = (hertzHigh: number, thdVoltsPercent: number, hertz?: (50 | 60)[], crest = 1.41) =>
    verdicts(
      waveform.ask({
        ...setting({ plate: hertz ? { ...plate, hertz } : plate }),
        supply: supply(),
        waveform: { hertzLow: 59.9, hertzHigh, thdVoltsPercent, crest },
      }),
    );
  expect(ask(60.1, 3)).toEqual(['adequate', 'adequate', 'adequate']);
  expect(ask(62, 12)).toEqual(['marginal', 'marginal', 'adequate']);
  expect(ask(60.1, 3, undefined, 1.25).at(-1)).toBe('marginal');
  // What a machine with a capacitor input makes of a good outlet by itself.
  expect(ask(60.1, 3, undefined, 1.36).at(-1)).toBe('adequate');
  expect(ask(60.1, 3, [50])[0]).toBe('marginal');
});

test('heat: colder, inside, hotter than the coupon that passed', () => {
  const ask = (meanWatts: number, endS = 4) =>
    heat.ask({
      ...setting({ coupon: { watts: [5_000, 6_000] } }),
      arc: { ...arc({ meanWatts }), endS },
    })[0]!;
  expect(ask(5_500).verdict).toBe('adequate');
  expect(ask(5_050).verdict).toBe('marginal');
  expect(ask(4_000)).toMatchObject({ verdict: 'marginal', limit: 5_000, required: false });
  expect(ask(4_000).says).toMatch(/20 % under.*colder/);
  expect(ask(7_000).says).toMatch(/17 % over.*hotter/);
  expect(ask(4_000, 1.3).verdict).toBe('unproven');
  expect(heat.ask({ ...setting(), arc: arc() })[0]!.required).toBe(false);
});

describe('worse evidence never improves a verdict', () => {
  const number = (min: number, max: number) =>
    fc.double({ min, max, noNaN: true, noDefaultInfinity: true });
  const gauges = [16, 14, 12, 10, 8, 6] as const;
  const base = fc.record({
    open: number(200, 262),
    ohmsR: number(0.01, 1.2),
    ohmsX: number(0, 0.3),
    lag: number(0, 1.2),
    amps: number(8, 45),
    feet: number(0, 150),
    gauge: fc.integer({ min: 0, max: 5 }),
    low: number(190, 250),
    behaviour: fc.constantFrom('constant-power', 'constant-impedance', 'unknown'),
  });
  type Base = typeof base extends fc.Arbitrary<infer T> ? T : never;

  const judge = (from: Base) => {
    const circuit: Circuit = {
      name: 'c',
      volts: 240,
      cords: [{ awg: gauges[from.gauge]!, feet: from.feet }],
    };
    const rated = { U1: 240, I1max: from.amps };
    const each = setting({ circuit, rated, plate: { ...plate, supply: [rated] } });
    const seen = supply({
      openVolts: from.open,
      ohmsR: from.ohmsR,
      ohmsX: from.ohmsX,
      lagRadians: from.lag,
    });
    const supplied = { ...seen, behaviour: from.behaviour as 'unknown' };
    return [
      ...fullLoad.ask({ ...each, supply: supplied }),
      ...plateVoltage.ask({
        ...each,
        arc: arc({
          minVolts200ms: from.low,
          maxAmps200ms: from.amps,
          idleVolts: null,
          meanVolts: from.low,
        }),
      }),
      ...drop.ask({ ...each, supply: supplied }),
      ...supplyAmps.ask(each),
      ...cord.ask({ ...each, supply: supplied }).slice(0, 1),
    ];
  };
  /** By rule, since a finding for too high a voltage may come and go. */
  const worstOf = (findings: Finding[], rule: string) =>
    Math.max(
      -1,
      ...findings.filter((each) => each.rule === rule).map((each) => rank(each.verdict)),
    );

  const changes: Record<string, (from: Base, by: number) => Base> = {
    'more resistance': (from, by) => ({ ...from, ohmsR: from.ohmsR + by }),
    'longer cord': (from, by) => ({ ...from, feet: from.feet + 100 * by }),
    'thinner wire': (from, by) => ({ ...from, gauge: Math.max(0, from.gauge - Math.ceil(3 * by)) }),
    'lower voltage': (from, by) => ({
      ...from,
      open: from.open * (1 - by / 4),
      low: from.low * (1 - by / 4),
    }),
    'higher current': (from, by) => ({ ...from, amps: from.amps * (1 + by) }),
  };

  test.each(Object.keys(changes))('%s', (name) => {
    fc.assert(
      fc.property(base, number(0.001, 1), (from, by) => {
        const before = judge(from);
        const after = judge(changes[name]!(from, by));
        for (const rule of ['full-load', 'plate-voltage', 'cord', 'supply-amps'])
          expect(worstOf(after, rule), rule).toBeGreaterThanOrEqual(worstOf(before, rule));
      }),
      { numRuns: 300 },
    );
  });
});
