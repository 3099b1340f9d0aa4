import { describe, expect, test } from 'vitest';
import type { SensorEvidence, SensorPair } from '../../shared/rules/facts.ts';
import { judgeArc, judgeRecording, worstOfArcs } from '../../shared/rules/judge.ts';
import { doubted, sensor } from '../../shared/rules/sensor.ts';
import { arc, evidence, sensorPair, setting } from './given.ts';

const doubts = (seen: Partial<SensorEvidence>, change = {}) =>
  sensor
    .ask({
      ...setting(),
      ...evidence({ sensor: { pairs: [sensorPair()], same: null, ...seen } }),
      arc: arc(),
      ...change,
    })
    .filter(({ required }) => required)
    .map(({ verdict, saying }) => {
      expect(verdict).toBe('unproven');
      return saying!.name;
    });

/** A pair that takes `watts` with its current `degrees` behind its voltage. */
function behind(degrees: number, voltAmps = 3_000): SensorPair {
  const angle = (degrees * Math.PI) / 180;
  return sensorPair({ watts: voltAmps * Math.cos(angle), vars: voltAmps * Math.sin(angle) });
}

describe('power flows to a load', () => {
  test.each([0, 20, 45, 70, -30])('one pair, current %i° behind: nothing is doubted', (degrees) => {
    expect(doubts({ pairs: [behind(degrees)] })).toEqual([]);
  });

  test.each([
    [165, ['sensorReversed']],
    [180, ['sensorReversed']],
    [-160, ['sensorReversed']],
    // A single-phase load seen by the voltage of another phase.
    [120, ['legsMixed']],
    [-120 + 20, ['legsMixed']],
    [90, ['legsMixed']],
  ])('one pair, current %i° behind', (degrees, names) => {
    expect(doubts({ pairs: [behind(degrees)] })).toEqual(names);
  });

  test('two legs: one clamp turned round, both, and each on the other leg', () => {
    expect(doubts({ pairs: [behind(20), behind(20)] })).toEqual([]);
    expect(doubts({ pairs: [behind(20), behind(200)] })).toEqual(['sensorReversed']);
    // On a split phase i2 = −i1: sensors that are swapped look like both turned round.
    expect(doubts({ pairs: [behind(200), behind(200)] })).toHaveLength(2);
  });

  test('a load between two legs of a wye, or from a leg to a high leg, is no mistake', () => {
    for (const load of [-15, 0, 25, 40])
      expect(doubts({ pairs: [behind(load + 30), behind(load - 30)] })).toEqual([]);
    // 240 V from leg A to the high leg: 60° more on the one, 30° less on the other.
    expect(doubts({ pairs: [behind(40 + 60), behind(40 - 30, 5_200)] })).toEqual([]);
  });

  test('three phases: right, one turned round, two swapped, all moved on by one', () => {
    const at = (...degrees: number[]) => doubts({ pairs: degrees.map((each) => behind(each)) });
    for (const load of [-10, 0, 20, 40]) {
      expect(at(load, load, load)).toEqual([]);
      expect(at(load, load + 180, load)).toEqual(['sensorReversed']);
      expect(at(load + 120, load - 120, load).length).toBeGreaterThan(0);
      expect(at(load + 120, load + 120, load + 120).length).toBeGreaterThan(0);
      expect(at(load - 120, load - 120, load - 120).length).toBeGreaterThan(0);
    }
  });

  test('a leg that carries next to nothing has no angle', () => {
    expect(doubts({ pairs: [behind(20), behind(170, 100)] })).toEqual([]);
    expect(doubts({ pairs: [sensorPair({ watts: 0, vars: 0 })] })).toEqual([]);
  });
});

describe('samples that cannot be', () => {
  test('clipped crests: more than a cycle of them', () => {
    expect(doubts({ pairs: [sensorPair({ volts: { clipped: 2 } })] })).toEqual([]);
    expect(doubts({ pairs: [sensorPair({ volts: { clipped: 3 } })] })).toEqual(['clippedVolts']);
    const second = [sensorPair(), sensorPair({ amps: { clipped: 40 } })];
    expect(doubts({ pairs: second })).toEqual(['clippedAmps']);
  });

  test('a value that stands still: volts for longer than a square wave, amperes two cycles', () => {
    const volts = (stillSeconds: number, stillAt: number) =>
      doubts({ pairs: [sensorPair({ volts: { stillSeconds, stillAt } })] });
    expect(volts(0.01, 230)).toEqual([]);
    expect(volts(0.013, 230)).toEqual(['heldVolts']);
    // A dead circuit rests at a converter's offset.
    expect(volts(30, 0.3)).toEqual([]);
    const amps = (stillSeconds: number, stillAt: number) =>
      doubts({ pairs: [sensorPair({ amps: { stillSeconds, stillAt } })] });
    expect(amps(0.05, 12)).toEqual(['heldAmps']);
    expect(amps(0.03, 12)).toEqual([]);
    expect(amps(60, 0.1)).toEqual([]);
  });

  test('current with no voltage, two channels alike, a voltage off its middle', () => {
    expect(doubts({ pairs: [sensorPair({ deadSeconds: 0.1 })] })).toEqual(['ampsWithoutVolts']);
    const alike = sensor.ask({
      ...{ ...setting(), ...evidence(), arc: null },
      sensor: { pairs: [sensorPair(), sensorPair()], same: [0, 2] },
    });
    expect(alike[0]!.says).toMatch(/^Channels v1 and v2 hold the same samples/);
    expect(doubts({ pairs: [sensorPair({ volts: { offsetShare: -0.08 } })] })).toEqual([
      'offsetVolts',
    ]);
  });
});

describe('figures that cannot be', () => {
  const amps = (maxAmps200ms: number, meanAmps = 20, change = {}) =>
    doubts({}, { arc: arc({ maxAmps200ms, meanAmps }), ...change });

  test('amperes over the plate: by half for 200 ms, by a quarter for a second', () => {
    expect(amps(44)).toEqual([]);
    expect(amps(46)).toEqual(['overPlate']);
    expect(amps(40, 37)).toEqual([]);
    expect(amps(40, 38)).toEqual(['overPlate']);
    // At 180 V a machine of constant power draws a third more than at 240 V.
    expect(amps(55, 40, { openVolts: 180 })).toEqual([]);
    // A hot start fills a tack.
    const tack = { ...arc({ maxAmps200ms: 60, meanAmps: 60 }), startS: 1, endS: 1.15 };
    expect(doubts({}, { arc: tack })).toEqual([]);
  });

  test('372 A behind a breaker of 50 A, with no plate at all', () => {
    const circuit = { name: 'bay', volts: 240, breakerAmps: 50 };
    const none = { plate: null, rated: null, circuit };
    expect(amps(372, 300, none)).toEqual(['overBreaker']);
    expect(amps(90, 90, none)).toEqual([]);
  });

  test('a voltage of no service', () => {
    expect(doubts({}, { openVolts: 48 })).toEqual(['noSuchClass']);
    expect(doubts({}, { openVolts: 2400 })).toEqual(['noSuchClass']);
    for (const openVolts of [92, 120, 208, 240, 400, 480, 600, 690, 3, null])
      expect(doubts({}, { openVolts })).toEqual([]);
  });
});

describe('what is doubted proves nothing', () => {
  const clipped = { pairs: [sensorPair({ volts: { clipped: 99 } })], same: null };

  test.each([240, 190])('a minimum of %i V is neither adequate nor underpowered', (minVolts) => {
    const low = arc({ minVolts200ms: minVolts, minVoltsHalfCycle: minVolts });
    const good = judgeArc(setting(), low, evidence());
    expect(good.verdict).toBe(minVolts === 240 ? 'adequate' : 'underpowered');
    const bad = judgeArc(setting(), low, evidence({ sensor: clipped }));
    expect(bad.verdict).toBe('unproven');
    expect(bad.findings[0]!.rule).toBe('sensor');
    const plate = bad.findings.find(({ rule }) => rule === 'plate-voltage')!;
    expect(plate.verdict).toBe('unproven');
    expect(plate.says).toMatch(/this proves nothing\.$/);
    const whole = judgeRecording(setting(), evidence(), worstOfArcs([], bad.findings));
    expect(whole.verdict).toBe('unproven');
    expect(whole.findings.filter(({ rule }) => rule === 'sensor')).toHaveLength(1);
  });

  test('the warning that a machine is unsuited stays', () => {
    const { findings } = judgeArc(setting(), arc(), evidence({ sensor: clipped }));
    const unsuited = { ...findings.at(-1)!, rule: 'voltage-class', verdict: 'unsuited' as const };
    expect(doubted([...findings, unsuited]).at(-1)!.verdict).toBe('unsuited');
  });

  test('a sensor that nothing speaks against says so once, and holds nothing', () => {
    const { findings } = judgeArc(setting(), arc(), evidence());
    const whole = judgeRecording(setting(), evidence(), worstOfArcs([], findings));
    const said = whole.findings.filter(({ rule }) => rule === 'sensor');
    expect(said).toMatchObject([{ verdict: 'adequate', required: false }]);
  });

  test('a lopsided or shifted current is advice', () => {
    const odd = sensorPair({ lopsided: 0.4, amps: { offsetShare: 0.2 } });
    const seen = { pairs: [odd], same: null };
    const { verdict, findings } = judgeArc(setting(), arc(), evidence({ sensor: seen }));
    expect(verdict).toBe('adequate');
    const said = findings.filter(({ rule }) => rule === 'sensor');
    expect(said.map((each) => each.saying!.name)).toEqual(['halvesDiffer', 'offsetAmps']);
  });
});
