import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import {
  type BreakerKind,
  breakerKind,
  breakerZone,
  peakAmps,
} from '../../shared/rules/breaker.ts';
import { drop } from '../../shared/rules/drop.ts';
import { judgeArc, worstOfArcs } from '../../shared/rules/judge.ts';
import { limits } from '../../shared/rules/limits.ts';
import { receptacleAgainst } from '../../shared/rules/receptacle-pair.ts';
import { supplyAmps } from '../../shared/rules/supply-amps.ts';
import { arc, evidence, plate, setting, supply } from './given.ts';

const ul = (ratedAmps: number): BreakerKind => ({ ratedAmps, standard: 'UL 489', type: null });
const iec = (ratedAmps: number, type: BreakerKind['type'] = null): BreakerKind => ({
  ratedAmps,
  standard: 'IEC 60898-1',
  type,
});
const at = (multiple: number, kind: BreakerKind) =>
  Object.values(breakerZone(multiple * kind.ratedAmps, kind));

describe('UL 489: 100 % holds, 135 % trips within the hour, 200 % within minutes', () => {
  test.each([
    // Multiple, rating, zone, seconds.
    [1, 30, 'holds', null],
    [1.01, 30, 'may', null],
    [1.34, 30, 'may', null],
    [1.35, 30, 'will', 3600],
    [1.35, 50, 'will', 3600],
    [1.35, 60, 'will', 7200],
    [1.99, 30, 'will', 3600],
    [2, 20, 'will', 120],
    [2, 30, 'will', 120],
    [2, 40, 'will', 240],
    [2, 50, 'will', 240],
    [2, 100, 'will', 360],
    [2, 150, 'will', 480],
    [2, 225, 'will', 600],
    // Nothing was found over 225 A: the two hours of 135 % stay.
    [2, 250, 'will', 7200],
    // No standard fixes an instant trip, so more current gets no shorter time.
    [9, 30, 'will', 120],
  ] as const)('%d times %d A: %s, %s s', (multiple, rated, zone, seconds) => {
    expect(at(multiple, ul(rated))).toEqual([zone, seconds]);
  });
});

describe('IEC 60898-1: 1.13 holds, 1.45 within the hour, 2.55 within a minute', () => {
  test.each([
    [1, 32, 'holds', 3600],
    [1.13, 32, 'holds', 3600],
    [1.13, 80, 'holds', 7200],
    [1.14, 32, 'may', null],
    [1.44, 32, 'may', null],
    [1.45, 63, 'will', 3600],
    [1.45, 80, 'will', 7200],
    [2.55, 32, 'will', 60],
    [2.55, 40, 'will', 120],
  ] as const)('%d times %d A: %s, %s s', (multiple, rated, zone, seconds) => {
    expect(at(multiple, iec(rated))).toEqual([zone, seconds]);
  });

  test('types B, C, D must trip at once from 5, 10 and 20 times; unknown, from 20', () => {
    const firstAtOnce = (type: BreakerKind['type']) =>
      [4.9, 5, 9.9, 10, 19.9, 20].find((each) => at(each, iec(16, type))[1] === 0.1);
    expect([firstAtOnce('B'), firstAtOnce('C'), firstAtOnce('D')]).toEqual([5, 10, 20]);
    expect(firstAtOnce(null)).toBe(20);
  });

  test('a peak may trip it from 3, 5 and 10 times; unknown, from 3', () => {
    expect([peakAmps(iec(16, 'B')), peakAmps(iec(16, 'C')), peakAmps(iec(16, 'D'))]).toEqual([
      ...[48, 80, 160],
    ]);
    expect(peakAmps(iec(16))).toBe(48);
    expect(peakAmps(ul(30))).toBe(null);
  });

  test('IEC 60947-2: 1.05 and 1.30', () => {
    const box: BreakerKind = { ratedAmps: 160, standard: 'IEC 60947-2', type: null };
    expect(at(1.05, box)).toEqual(['holds', 7200]);
    expect(at(1.06, box)).toEqual(['may', null]);
    expect(at(1.3, box)).toEqual(['will', 7200]);
    expect(at(1.3, { ...box, ratedAmps: 63 })).toEqual(['will', 3600]);
  });
});

test('which standard: the type, else the wire, else the mains', () => {
  const circuit: Circuit = { name: 'c', volts: 240 };
  const standard = (change: Partial<Circuit>, amps = 32) =>
    breakerKind({ ...circuit, ...change }, amps).standard;
  expect(standard({})).toBe('UL 489');
  expect(standard({ branch: { awg: 8 }, hertz: 50 })).toBe('UL 489');
  expect(standard({ branch: { mm2: 6 } })).toBe('IEC 60898-1');
  expect(standard({ cords: [{ mm2: 6, metres: 5 }] })).toBe('IEC 60898-1');
  expect(standard({ breakerType: 'C' })).toBe('IEC 60898-1');
  expect(standard({ hertz: 50 })).toBe('IEC 60898-1');
  expect(standard({ volts: 230 })).toBe('IEC 60898-1');
  expect(standard({ volts: 400 }, 160)).toBe('IEC 60947-2');
});

test('more current never gets a better zone or a longer time', () => {
  const kinds = fc.constantFrom(
    ul(20),
    ul(45),
    ul(90),
    ul(250),
    iec(16, 'B'),
    iec(40, 'D'),
    iec(80),
  );
  const order = ['holds', 'may', 'will'];
  const amount = fc.double({ min: 0.1, max: 25, noNaN: true });
  fc.assert(
    fc.property(kinds, amount, amount, (kind, a, b) => {
      const [less, more] = [Math.min(a, b), Math.max(a, b)].map((multiple) =>
        breakerZone(multiple * kind.ratedAmps, kind),
      );
      expect(order.indexOf(more!.zone)).toBeGreaterThanOrEqual(order.indexOf(less!.zone));
      if (less!.zone === 'will') expect(more!.seconds).toBeLessThanOrEqual(less!.seconds!);
    }),
  );
});

describe('what is said of a breaker', () => {
  const ask = (circuit: Partial<Circuit>, I1max = 34, of: Partial<Plate> = {}) => {
    const rated = { U1: 240, I1max, I1eff: 15 };
    return supplyAmps.ask({
      ...setting({ plate: { ...plate, ...of, supply: [rated] }, rated }),
      circuit: { name: 'c', volts: 240, ...circuit },
    });
  };
  const ofBreaker = (circuit: Partial<Circuit>, I1max?: number) => ask(circuit, I1max)[1]!;

  test('34 A over a 30 A breaker: it may trip, and nobody can say when', () => {
    const found = ofBreaker({ breakerAmps: 30 });
    expect(found).toMatchObject({ verdict: 'marginal', limit: 34, required: false });
    expect(found.says).toMatch(
      /^At 34 A, 113 % of its rating, a 30 A breaker may trip at any time, or never/,
    );
    expect(found.says).toMatch(
      /one good breaker may trip at once, another later and another never/,
    );
    expect(found.says).not.toMatch(/hold|\d s\b/);
    expect(found.electrician).toMatch(/does not show that wire, cord and receptacle/);
  });

  test('the 26 A one of a test bench: 135 % is where it must trip, not what it holds', () => {
    expect(ofBreaker({ breakerAmps: 26 }).says).not.toMatch(/hold/);
    expect(ofBreaker({ breakerAmps: 25 }).says).toMatch(/within 1 h at the latest/);
    expect(ofBreaker({ breakerAmps: 17 }).says).toMatch(/200 %.*within 2 min at the latest/);
  });

  test('within its rating it holds; a metric one up to 1.13 times from cold', () => {
    expect(ofBreaker({ breakerAmps: 35 })).toMatchObject({ verdict: 'adequate' });
    const metric = { branch: { mm2: 6, metres: 20 }, volts: 230, breakerAmps: 32 };
    const [, , , found] = ask(metric, 36);
    expect(found).toMatchObject({ verdict: 'adequate', source: limits.breakerIec.source });
    expect(found!.limit).toBeCloseTo(36 / 1.13, 9);
    expect(found!.says).toMatch(/must hold for 1 h from cold/);
    expect(ask(metric, 37)[3]).toMatchObject({ verdict: 'marginal' });
  });

  test('one phase or three: the branch by its loaded conductors', () => {
    const metric = { branch: { mm2: 4, metres: 20 }, volts: 400 };
    const three = ask({ ...metric, phases: 3 }, 27.5, { phases: 3 });
    expect(three.map(({ measured }) => measured)).toEqual([27, 27]);
    expect(three[1]!.verdict).toBe('marginal');
    const one = ask({ ...metric, phases: 1 }, 27.5, { phases: 1 });
    expect(one.map(({ measured }) => measured)).toEqual([30, 30]);
    expect(three[0]!.electrician).toMatch(/Method B2, PVC, three loaded conductors/);
  });

  test('630.12: at most twice the conductors, at most twice I1max, next size up', () => {
    const on = (breakerAmps: number) =>
      ask({ breakerAmps, dedicated: true, branch: { awg: 12, feet: 20 } }, 40)
        .filter(({ verdict }) => verdict === 'marginal')
        .map(({ limit, source }) => [limit, source]);
    // 12 AWG, 60 °C column: 20 A, so 40 A; I1max 40 A, so 80 A.
    expect(on(40)).not.toContainEqual([40, limits.breakerOverConductor.source]);
    expect(on(45)).toContainEqual([40, limits.breakerOverConductor.source]);
    expect(on(80)).not.toContainEqual([80, limits.breakerOverWelder.source]);
    expect(on(90)).toContainEqual([80, limits.breakerOverWelder.source]);
  });

  test('240.4(D) and (G): more over a small wire is for a welder alone', () => {
    const on = (change: Partial<Circuit>) =>
      ask({ breakerAmps: 50, branch: { awg: 12, feet: 20 }, ...change }).find(
        ({ source }) => source === limits.smallConductor.source,
      );
    expect(on({ dedicated: true })).toMatchObject({ verdict: 'adequate', limit: 20 });
    expect(on({})).toMatchObject({ verdict: 'marginal' });
    expect(on({})!.says).toMatch(/arc welder alone; for anything else 20 A.*Plug nothing else/);
    expect(on({ breakerAmps: 20 })).toBe(undefined);
    expect(on({ branch: { awg: 8, feet: 20 } })).toBe(undefined);
  });

  test('a receptacle against its breaker, NEC table 210.21(B)(3)', () => {
    const table: [number, number[]][] = [
      [15, [15]],
      [20, [15, 20]],
      [30, [30]],
      [40, [40, 50]],
      [50, [50]],
    ];
    const sizes = [15, 20, 30, 40, 50];
    for (const [breaker, fits] of table)
      expect(sizes.filter((each) => receptacleAgainst(breaker, each) === 'fits')).toEqual(fits);
    expect(receptacleAgainst(30, 50)).toBe('over');
    expect(receptacleAgainst(50, 30)).toBe('under');
    expect(receptacleAgainst(60, 50)).toBe('under');
    expect(receptacleAgainst(45, 50)).toBe('fits');
  });

  test('under its breaker by the welder’s exception alone; over it on its own circuit', () => {
    const on = (change: Partial<Circuit>) =>
      ask({ breakerAmps: 50, receptacleAmps: 30, ...change }).find(({ says }) =>
        /receptacle behind/.test(says),
      );
    expect(on({ dedicated: true })).toMatchObject({ verdict: 'adequate' });
    expect(on({})).toMatchObject({ verdict: 'marginal' });
    // Not enough for the machine: no exception.
    expect(on({ dedicated: true, receptacleAmps: 10 })).toMatchObject({ verdict: 'marginal' });
    expect(on({ receptacleAmps: 50 })).toBe(undefined);
    const over = { breakerAmps: 30, receptacleAmps: 50 };
    expect(on(over)).toMatchObject({ verdict: 'marginal', measured: 50 });
    expect(on({ ...over, dedicated: true })).toBe(undefined);
    const metric = { branch: { mm2: 6, metres: 9 }, dedicated: true };
    expect(on({ ...metric, breakerAmps: 32, receptacleAmps: 16 })).toMatchObject({
      verdict: 'marginal',
      source: 'common practice, no source',
    });
  });
});

describe('a weld that was measured', () => {
  const judged = (meanAmps: number, breakerAmps?: number, pairs = 1, lost = 0) => {
    const one = arc({ meanAmps }, lost);
    const channels = Array.from({ length: pairs }, (_, at) => ({
      ...one.channels[0]!,
      meanAmps: at === pairs - 1 ? meanAmps : meanAmps / 2,
    }));
    const circuit = {
      ...{ name: 'c', volts: 240, dedicated: true },
      ...(breakerAmps === undefined ? {} : { breakerAmps }),
    };
    const { findings } = judgeArc(setting({ circuit, pairs }), { ...one, channels }, evidence());
    return findings.filter(({ rule }) => rule === 'supply-amps');
  };

  test.each([1, 2, 3])('%i pairs: its own r.m.s., of the most loaded line', (pairs) => {
    const [found] = judged(39, 30, pairs);
    expect(found).toMatchObject({ verdict: 'marginal', measured: 39, limit: 30, atS: [1, 4] });
    expect(found!.required).toBe(false);
    expect(found!.says).toMatch(/^This weld drew 39 A for 3[.]0 s[.] At 39 A, 130 % of its rating/);
  });

  test('says nothing of what a breaker must hold, nor where none is known', () => {
    expect(judged(29, 30)).toEqual([]);
    // 1 % of accuracy may be over it.
    expect(judged(29.9, 30)).toHaveLength(1);
    expect(judged(60)).toEqual([]);
    expect(judged(60, 30, 1, 0.5)).toEqual([]);
  });

  test('a metric breaker must hold 1.13 times its rating', () => {
    const circuit = { name: 'c', volts: 230, breakerAmps: 32 };
    const of = (meanAmps: number) =>
      judgeArc(setting({ circuit }), arc({ meanAmps }), evidence()).findings.filter(
        ({ source }) => source === limits.breakerIec.source,
      );
    // 1.13 · 32 A is 36.2 A.
    expect(of(35)).toEqual([]);
    expect(of(37)[0]!.limit).toBeCloseTo(36.16, 9);
  });

  test('the worst weld of a recording is told with it', () => {
    const worst = [judged(33, 30), judged(45, 30), judged(36, 30)].reduce(worstOfArcs, []);
    expect(worst.map(({ measured }) => measured)).toEqual([45]);
  });
});

test("drop: √3·I·R of three phases, 2·I·R of one, by the plate or by the sensor's pairs", () => {
  const far: Circuit = { name: 'c', volts: 240, branch: { awg: 10, feet: 100 } };
  const part = (phases: 1 | 3, pairs = 1) => {
    const own = { ...plate, phases };
    const asked = setting({ plate: own, circuit: far, pairs });
    return drop.ask({ ...asked, supply: supply() }).at(-1)!.measured!;
  };
  // 10 AWG, 1.24 Ω/kft at 75 °C, 30 A on 240 V: 7.44 V of one phase (W15), 6.44 V of three.
  expect(240 * part(1)).toBeCloseTo(7.44, 3);
  expect(240 * part(3)).toBeCloseTo(7.44 * (Math.sqrt(3) / 2), 3);
});
