import { describe, expect, test } from 'vitest';
import {
  createPlant,
  parseScenario,
  scenarioByName,
  type Truth,
} from '../../simulator/electrics/index.ts';

/** Every 200 ms of a point: r.m.s. volts and amperes of each pair, and power. */
interface Watched {
  volts: number[][];
  amps: number[][];
  watts: number[];
  truth: Truth;
}

const windowS = 0.2;

function watch(scenario: string | object, seconds: number, seed = 1, point?: string): Watched {
  const parsed = typeof scenario === 'string' ? scenarioByName(scenario)! : parseScenario(scenario);
  const name = point ?? parsed.bays[0]!.sensors[0]!.name;
  const plant = createPlant(parsed, seed, [name]);
  const { about } = plant.points[0]!;
  const { pairs, rateHz, voltsPerCount, ampsPerCount } = about;
  const frames = windowS * rateHz;
  const into = new Int32Array(frames * pairs * 2);
  const out: Watched = { volts: [], amps: [], watts: [], truth: plant.truth() };
  for (let at = 0; at * windowS < seconds; at++) {
    plant.points[0]!.read(into, frames);
    const volts = new Array<number>(pairs).fill(0);
    const amps = new Array<number>(pairs).fill(0);
    let watts = 0;
    for (let frame = 0; frame < frames; frame++) {
      for (let pair = 0; pair < pairs; pair++) {
        const v = into[(frame * pairs + pair) * 2]! * voltsPerCount[pair]!;
        const i = into[(frame * pairs + pair) * 2 + 1]! * ampsPerCount[pair]!;
        volts[pair]! += (v * v) / frames;
        amps[pair]! += (i * i) / frames;
        watts += (v * i) / frames;
      }
    }
    out.volts.push(volts.map(Math.sqrt));
    out.amps.push(amps.map(Math.sqrt));
    out.watts.push(watts);
  }
  out.truth = plant.truth();
  return out;
}

/** Lowest volts of the first pair over windows that lie wholly within an arc. */
function lowestInArc({ volts, truth }: Watched): number {
  let lowest = Number.POSITIVE_INFINITY;
  for (const { startS, endS } of truth.arcs) {
    const last = Math.floor(endS / windowS);
    for (let at = Math.ceil(startS / windowS); at < last; at++) {
      lowest = Math.min(lowest, volts[at]![0]!);
    }
  }
  return lowest;
}

const spread = (values: number[]): number => Math.max(...values) - Math.min(...values);
const kinds = ({ truth }: Watched): string[] => truth.faults.map(({ kind }) => kind);

describe('healthy scenarios', () => {
  test.each([
    ['healthy-steel', 240],
    ['healthy-aluminium', 240],
    ['healthy-braze', 240],
    ['healthy-transformer', 240],
    ['healthy-bench', 120],
  ])('%s keeps its volts within 5 per cent of %s and has no fault', (name, volts) => {
    const watched = watch(name, 12);
    for (const [v] of watched.volts) expect(Math.abs(v! / volts - 1)).toBeLessThan(0.05);
    expect(watched.truth.arcs.length).toBeGreaterThan(0);
    expect(watched.truth.faults).toEqual([]);
  });
});

describe('faults show in what a sensor sees', () => {
  test.each([
    ['long-thin-cord', 120],
    ['thin-branch', 240],
    ['208-under-240', 240],
    ['weak-generator', 240],
    ['loose-terminal', 240],
  ])('%s brings the machine under nine tenths of %s V', (name, volts) => {
    const watched = watch(name, 14);
    expect(lowestInArc(watched)).toBeLessThan(0.9 * volts);
    expect(kinds(watched)).toContain(name);
  });

  test('a 208 V service is far under 240 V with nothing on', () => {
    const { volts } = watch('208-under-240', 1);
    expect(Math.abs(volts[3]![0]! - 208)).toBeLessThan(4);
  });

  test('at the wall the thin cord hardly shows', () => {
    expect(lowestInArc(watch('long-thin-cord', 15, 1, 'wall'))).toBeGreaterThan(0.95 * 120);
  });

  test('a compressor steps the volts without any current of one’s own', () => {
    const { volts, amps, truth } = watch('shared-circuit', 25);
    const starts = truth.faults.filter(({ kind }) => kind === 'other-load-compressor');
    expect(starts.length).toBeGreaterThan(0);
    const quiet = volts.map(([v], at) => ({ v: v!, i: amps[at]![0]! })).filter(({ i }) => i < 2);
    expect(spread(quiet.map(({ v }) => v))).toBeGreaterThan(2);
  });

  test('an open neutral lifts one leg and lowers the other by as much', () => {
    const { volts, truth } = watch('open-neutral', 16);
    const opens = truth.faults.find(({ kind }) => kind === 'open-neutral')!.startS;
    const before = volts[Math.floor(opens / windowS) - 2]!;
    const after = volts[Math.ceil(opens / windowS) + 2]!;
    expect(Math.abs(before[0]! - before[1]!)).toBeLessThan(4);
    expect(Math.abs(after[0]! - after[1]!)).toBeGreaterThan(30);
    expect(after[0]! + after[1]!).toBeCloseTo(before[0]! + before[1]!, -1);
  });

  test('a lost phase is dead at the bench and the others carry on', () => {
    const { volts, amps, truth } = watch('lost-phase', 20);
    expect(kinds({ truth } as Watched)).toContain('lost-phase');
    expect(volts.at(-1)![1]!).toBeLessThan(5);
    expect(volts.at(-1)![0]!).toBeGreaterThan(110);
    const late = amps.slice(50);
    expect(Math.max(...late.map((row) => row[1]!))).toBeLessThan(1);
    expect(Math.max(...late.map((row) => row[0]!))).toBeGreaterThan(15);
  });

  test('a light bead passes where a heavy one on the same wires would not', () => {
    expect(lowestInArc(watch('light-bead', 15))).toBeGreaterThan(0.95 * 240);
    const json = JSON.parse(JSON.stringify(scenarioByName('light-bead'))) as {
      bays: { work: { settings: object[] } }[];
    };
    json.bays[0]!.work.settings = [{ fromS: 0, amps: 175 }];
    expect(lowestInArc(watch(json, 15))).toBeLessThan(0.9 * 240);
  });

  test('an overrun duty is more than twice the plate’s', () => {
    const { truth } = watch('overrun-duty', 110);
    const burning = truth.arcs.reduce((sum, { startS, endS }) => sum + endS - startS, 0);
    expect(burning / truth.arcs.at(-1)!.endS).toBeGreaterThan(0.65);
  });

  test.each([
    ['cold-set-up', 'under'],
    ['hot-set-up', 'over'],
  ])('%s: coupons inside their band, then arcs %s it', (name, side) => {
    const [low, high] = scenarioByName(name)!.bays[0]!.coupon!.watts;
    const { truth } = watch(name, 32, 3);
    const early = truth.arcs.filter(({ startS }) => startS < 18);
    const late = truth.arcs.filter(({ startS }) => startS >= 18);
    expect(early.length).toBeGreaterThan(0);
    expect(late.length).toBeGreaterThan(0);
    for (const { meanWatts } of early) {
      expect(meanWatts).toBeGreaterThan(low);
      expect(meanWatts).toBeLessThan(high);
    }
    for (const { meanWatts } of late) {
      if (side === 'under') expect(meanWatts).toBeLessThan(low);
      else expect(meanWatts).toBeGreaterThan(high);
    }
  });

  test('where the supply gives way, tries go out within a few cycles and are made again', () => {
    const { truth } = watch('no-strike', 20);
    const lost = truth.faults.filter(({ kind }) => kind === 'arc-lost' || kind === 'no-strike');
    expect(lost.length).toBeGreaterThan(3);
    for (const { startS, endS } of lost) expect(endS! - startS).toBeLessThan(0.15);
    expect(truth.arcs).toEqual([]);
  });

  test('an overloaded breaker trips, the bay goes dead, and someone resets it', () => {
    const json = JSON.parse(JSON.stringify(scenarioByName('overrun-duty'))) as {
      bays: { circuit: { breakerAmps: number }; breaker: object }[];
    };
    json.bays[0]!.circuit.breakerAmps = 12;
    json.bays[0]!.breaker = { resetS: 8 };
    const watched = watch(json, 80);
    const tripped = watched.truth.faults.find(({ kind }) => kind === 'breaker-open')!;
    expect(tripped.startS).toBeGreaterThan(5);
    const dead = watched.volts[Math.ceil(tripped.startS / windowS) + 5]![0]!;
    expect(dead).toBeLessThan(5);
    expect(tripped.endS).not.toBeNull();
    expect(watched.volts[Math.ceil(tripped.endS! / windowS) + 5]![0]!).toBeGreaterThan(230);
  });
});

describe('more wire, fewer volts', () => {
  test('along a cord that grows, the lowest volts under the arc only fall', () => {
    const json = JSON.parse(JSON.stringify(scenarioByName('long-thin-cord'))) as {
      bays: { circuit: { cords: object[] } }[];
    };
    const lows = [10, 60, 120].map((feet) => {
      json.bays[0]!.circuit.cords = [{ awg: 14, feet }];
      return lowestInArc(watch(json, 8));
    });
    expect([...lows].sort((a, b) => b - a)).toEqual(lows);
    expect(spread(lows)).toBeGreaterThan(5);
  });
});
