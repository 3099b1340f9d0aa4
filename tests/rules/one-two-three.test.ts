import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Finding } from '../../shared/protocol/judgement.ts';
import type { ArcEvidence, Setting, SupplyView } from '../../shared/rules/facts.ts';
import { judgeArc, judgeRecording } from '../../shared/rules/judge.ts';
import { wiresInLoop } from '../../shared/rules/loops.ts';
import { phases } from '../../shared/rules/phases.ts';
import { plateVoltage } from '../../shared/rules/plate-voltage.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { runOhms } from '../../shared/rules/wire.ts';
import { channel, evidence, plate, setting, view } from './given.ts';

/** One machine and one supply, measured on one, two and three pairs. */
interface Seen {
  volts: number;
  amps: number;
  /** Of a loop of two wires. */
  ohms: number;
}

type Way = Pick<Setting, 'pairs' | 'loops' | 'ampsPerLine'>;
const ways: Record<string, Way> = {
  'one pair': { pairs: 1, loops: [0], ampsPerLine: 1 },
  'across two legs': { pairs: 2, loops: [2], ampsPerLine: 1 },
  'on one leg of two': { pairs: 2, loops: [1], ampsPerLine: 1 },
  'across two lines of three': { pairs: 3, loops: [4], ampsPerLine: 2 },
  'on one line of three': { pairs: 3, loops: [0], ampsPerLine: 1 },
};

const bay: Circuit = {
  name: 'bay 2',
  volts: 240,
  breakerAmps: 50,
  branch: { awg: 10, metal: 'copper', feet: 60 },
  cords: [{ awg: 12, feet: 25 }],
  sensorAt: 'outlet',
};

/** Every finding of an arc and of the record that holds it, but what is said of the wires. */
function findingsOf(way: Way, seen: Seen, more: Partial<Setting> = {}): Finding[] {
  const wide = 2 / wiresInLoop(way);
  const loop = channel({
    ...{ idleVolts: seen.volts + 4, meanVolts: seen.volts + 1, minVolts200ms: seen.volts },
    ...{ minVoltsHalfCycle: seen.volts - 1, meanAmps: seen.amps * way.ampsPerLine },
    ...{ maxAmps200ms: seen.amps * way.ampsPerLine },
    meanWatts: 0.95 * seen.volts * seen.amps * way.ampsPerLine,
  });
  const arc: ArcEvidence = {
    ...{ startS: 1, endS: 4, lostFraction: 0, channels: [channel()] },
    loops: way.loops.map(() => loop),
    strike: way.loops.map(() => ({
      minVoltsHalfCycle: loop.minVoltsHalfCycle,
      ...{ amps: loop.maxAmps200ms, watts: loop.meanWatts },
    })),
  };
  const supplyView: SupplyView = view({
    ...{ openVolts: seen.volts + 4, ohmsR: seen.ohms / wide, ohmsX: 0.03 / wide },
    ...{ varianceR: (0.003 / wide) ** 2, varianceX: (0.003 / wide) ** 2 },
    largestStepAmps: seen.amps * way.ampsPerLine,
  });
  const worst = { minVoltsHalfCycle: seen.volts - 2, amps: 30 * way.ampsPerLine };
  const all = evidence({
    supply: { pairs: way.loops.map(() => supplyView), behaviour: 'constant-power' },
    openVolts: seen.volts + 4,
    sags: {
      ...{ count: 0, worst: null },
      strikes: { count: 2, worst: { ...worst, watts: 0.9 * seen.volts * worst.amps, atS: 9 } },
    },
  });
  const of = setting({ ...way, ...more });
  return [...judgeArc(of, arc, all).findings, ...judgeRecording(of, all, []).findings].filter(
    ({ rule }) => rule !== 'phases',
  );
}

const told = ({ rule, verdict, measured, limit, interval, says }: Finding) => ({
  ...{ rule, verdict, limit, says },
  measured: measured === null ? null : expect.closeTo(measured, 4),
  interval: interval === null ? null : interval.map((end) => expect.closeTo(end, 4)),
});

describe('the same terminals, measured on one, two or three pairs', () => {
  const seens = fc.record({
    volts: fc.double({ min: 180, max: 262, noNaN: true }),
    amps: fc.double({ min: 5, max: 35, noNaN: true }),
    ohms: fc.double({ min: 0.01, max: 1.2, noNaN: true }),
  });
  const settings = fc.constantFrom<Partial<Setting>>(
    {},
    { circuit: bay },
    { circuit: { ...bay, sensorAt: 'machine' } },
  );

  test.each(Object.keys(ways))('every rule says the same: %s', (name) => {
    const property = fc.property(seens, settings, (seen, more) => {
      const one = findingsOf(ways['one pair']!, seen, more);
      // Electricians are told each loop's own ohms; all else is the machine's.
      expect(findingsOf(ways[name]!, seen, more)).toMatchObject(one.map(told));
    });
    fc.assert(property, { numRuns: 30 });
  });
});

describe('three loops of a three-phase machine', () => {
  const three: Way = { pairs: 3, loops: [3, 4, 5], ampsPerLine: Math.sqrt(3) };
  const ofThree = {
    ...three,
    plate: { ...plate, phases: 3 as const },
    circuit: { ...bay, phases: 3 as const },
  };

  /** Rules on loops that have these volts each, at one current. */
  function judged(volts: readonly number[], ohms: readonly number[]) {
    const amps = 20 * Math.sqrt(3);
    const loops = volts.map((each) =>
      channel({
        ...{ idleVolts: each + 4, meanVolts: each, minVolts200ms: each, minVoltsHalfCycle: each },
        ...{ meanAmps: amps, maxAmps200ms: amps, meanWatts: each * amps },
      }),
    );
    const strike = volts.map((each) => ({ minVoltsHalfCycle: each, amps, watts: each * amps }));
    const arc = { startS: 1, endS: 4, lostFraction: 0, channels: [], loops, strike };
    const pairs = ohms.map((ohmsR, at) => view({ openVolts: volts[at]! + 4, ohmsR }));
    const all = evidence({ supply: { pairs, behaviour: 'constant-power' }, openVolts: 240 });
    const { findings } = judgeArc(setting(ofThree), arc, all);
    const of = (rule: string) => findings.find((finding) => finding.rule === rule)!;
    return ['plate-voltage', 'strike-voltage', 'full-load'].map(of);
  }

  test('the worst of them is the machine’s', () => {
    for (const weak of [0, 1, 2]) {
      const volts = [236, 236, 236].with(weak, 214);
      const [low, strike] = judged(volts, [0.05, 0.05, 0.05]);
      expect(low!.verdict).toBe('underpowered');
      expect(low!.says).toMatch(/at 20 A|behind the cord/);
      expect(strike!.verdict).toBe('underpowered');
      const thin = judged([236, 236, 236], [0.05, 0.05, 0.05].with(weak, 0.6))[2]!;
      expect(thin.verdict).toBe('underpowered');
    }
  });

  test('a cord takes √3 of what one of its conductors does', () => {
    const long = { ...bay, cords: [{ awg: 10, feet: 100 }] };
    const amps = 20 * Math.sqrt(3);
    const loop = channel({ minVolts200ms: 236, meanAmps: amps, maxAmps200ms: amps });
    const loops = [loop, loop, loop].map((each) => ({ ...each, meanWatts: 236 * amps }));
    const arc = { startS: 1, endS: 4, lostFraction: 0, channels: [], loops, strike: [] };
    const of = setting({ ...ofThree, circuit: long });
    const [low] = plateVoltage.ask({ ...of, arc });
    // 100 ft of 10 AWG at 40 °C: 0.11 Ω; 20 A, times √3, take 3.8 V.
    const ohms = runOhms(long.cords[0]!, 'flexible', 40);
    expect(ohms).toBeCloseTo(0.11, 2);
    expect(236 - low!.measured!).toBeCloseTo(Math.sqrt(3) * 20 * ohms, 6);
  });

  test('a line that is lost while somebody looks counts where the machine hangs on it', () => {
    const volts = [120, 118, 15];
    const seen = { volts, between: [206, 126, 128], atS: 7 };
    const service = { arrangement: 'three-phase' as const, volts: [120, 120, 120, 208, 208, 208] };
    const ask = (way: Partial<Setting>) =>
      phases.ask({ ...setting({ ...way, service, circuit: null }), phases: seen })[0]!;
    expect(ask(ofThree).verdict).toBe('underpowered');
    expect(ask(ofThree).says).toMatch(/^Phase 3 is missing/);
    const single = { pairs: 3, ampsPerLine: 2, plate };
    expect(ask({ ...single, loops: [4] }).says).toMatch(/^Phase 3 is missing/);
    expect(ask({ ...single, loops: [3] }).says).not.toMatch(/missing/);
  });

  test('one that was not estimated proves nothing', () => {
    const of = setting({ ...ofThree, circuit: null });
    const supply = { pairs: [view(), null, view()], behaviour: 'unknown' as const };
    const { findings } = judgeRecording(of, evidence({ supply }), []);
    expect(findings.find(({ rule }) => rule === 'full-load')!.verdict).toBe('unproven');
  });

  test('more current or less voltage on any of them never improves a verdict', () => {
    const worse = fc.nat(2);
    const volts = fc.array(fc.double({ min: 200, max: 245, noNaN: true }), {
      ...{ minLength: 3, maxLength: 3 },
    });
    const property = fc.property(
      volts,
      worse,
      fc.double({ min: 0, max: 30, noNaN: true }),
      (each, at, less) => {
        const before = judged(each, [0.1, 0.1, 0.1]);
        const after = judged(each.with(at, each[at]! - less), [0.1, 0.1, 0.1]);
        for (const [n, finding] of after.entries())
          expect(rank(finding.verdict)).toBeGreaterThanOrEqual(rank(before[n]!.verdict));
      },
    );
    fc.assert(property, { numRuns: 100 });
  });
});
