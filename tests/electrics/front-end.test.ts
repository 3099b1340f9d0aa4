import { describe, expect, test } from 'vitest';
import { stepS, stepsPerSecond } from '../../simulator/electrics/clockwork.ts';
import { FrontEnd } from '../../simulator/electrics/front-end.ts';
import { Ladder, terminals } from '../../simulator/electrics/ladder.ts';
import { Random } from '../../simulator/electrics/random.ts';
import type { Sensor } from '../../simulator/electrics/scenario.ts';

const exact: Sensor = {
  name: 'x',
  at: 'machine',
  rateHz: 10_240,
  bits: 24,
  fullScaleVolts: 400,
  fullScaleAmps: 200,
  voltsPercent: 0,
  ampsPercent: 0,
  leadDegrees: 0,
  probe: 'transformer',
  offsetPpm: 0,
  noisePpm: 0,
  clockPpm: 0,
};

/** Frames of one pair, in volts and amperes, from waves given in true time. */
function sample(
  changes: Partial<Sensor>,
  frames: number,
  volts: (s: number) => number,
  amps: (s: number) => number,
) {
  const ladder = new Ladder(1, []);
  const front = new FrontEnd({ ...exact, ...changes }, 120, 60, ladder, new Random(9, 'front'));
  const v: number[] = [];
  const i: number[] = [];
  const counts: number[] = [];
  for (let step = 0; v.length < frames; step++) {
    ladder.volts[terminals] = volts(step * stepS);
    ladder.amps[terminals] = amps(step * stepS);
    if (!front.step()) continue;
    front.convert();
    counts.push(front.frame[0]!);
    v.push(front.frame[0]! * front.voltsPerCount);
    i.push(front.frame[1]! * front.ampsPerCount);
  }
  return { v, i, counts, front };
}

const sine =
  (peak: number, hertz = 60) =>
  (s: number): number =>
    peak * Math.sin(2 * Math.PI * hertz * s);
const rms = (x: number[]): number =>
  Math.sqrt(x.reduce((sum, each) => sum + each * each, 0) / x.length);
/** Degrees by which b leads a, at a whole number of cycles. */
function leadOf(a: number[], b: number[], cyclesPerSample: number): number {
  const phase = (x: number[]): number => {
    let re = 0;
    let im = 0;
    for (const [at, each] of x.entries()) {
      re += each * Math.cos(2 * Math.PI * cyclesPerSample * at);
      im -= each * Math.sin(2 * Math.PI * cyclesPerSample * at);
    }
    return Math.atan2(im, re);
  };
  return ((phase(b) - phase(a)) * 180) / Math.PI;
}

describe('front end', () => {
  test('without errors it gives the volts and amperes there are', () => {
    const { v, i } = sample({}, 10_240, sine(170), sine(30));
    expect(rms(v.slice(2048)) / (170 / Math.SQRT2)).toBeCloseTo(1, 4);
    expect(rms(i.slice(2048)) / (30 / Math.SQRT2)).toBeCloseTo(1, 4);
  });

  test.each([
    [12, 2 ** 11],
    [16, 2 ** 15],
    [24, 2 ** 23],
  ] as const)('%s bits round to steps of the full scale over %s', (bits, half) => {
    const { counts, front } = sample({ bits }, 5000, sine(170), sine(30));
    expect(front.voltsPerCount).toBe(400 / half);
    expect(counts.every(Number.isInteger)).toBe(true);
    expect(Math.max(...counts) / half).toBeCloseTo(170 / 400, 2);
  });

  test('clips at its full scale, on both sides', () => {
    const { counts } = sample({ bits: 16 }, 5000, sine(900), sine(30));
    expect(Math.max(...counts)).toBe(32_767);
    expect(Math.min(...counts)).toBe(-32_768);
  });

  test('ratio errors stay within their bound and are not nothing', () => {
    const { v, i } = sample({ voltsPercent: 1, ampsPercent: 2 }, 10_240, sine(170), sine(30));
    const voltsOff = rms(v.slice(2048)) / (170 / Math.SQRT2) - 1;
    const ampsOff = rms(i.slice(2048)) / (30 / Math.SQRT2) - 1;
    expect(Math.abs(voltsOff)).toBeLessThan(0.0101);
    expect(Math.abs(ampsOff)).toBeLessThan(0.0201);
    expect(Math.abs(voltsOff) + Math.abs(ampsOff)).toBeGreaterThan(0.001);
  });

  test('the current transformer leads by its phase error', () => {
    const { v, i } = sample({ leadDegrees: 2 }, 20_480, sine(170), sine(30));
    const lead = leadOf(v.slice(10_240), i.slice(10_240), 60 / 10_240);
    expect(lead).toBeGreaterThan(0.4);
    expect(lead).toBeLessThan(2.01);
  });

  test('the filter keeps what would fold down out', () => {
    // 9 kHz would show up as 1.24 kHz.
    const inside = sample({}, 4096, sine(100, 1240), sine(1));
    const outside = sample({}, 4096, sine(100, 9000), sine(1));
    expect(rms(inside.v.slice(100))).toBeGreaterThan(69);
    expect(rms(outside.v.slice(100))).toBeLessThan(16);
  });

  test('a fast clock stretches what it records', () => {
    const { v, front } = sample({ clockPpm: 1000 }, 102_400, sine(170), sine(30));
    // Count rising crossings of zero: the recording's own frequency.
    let crossings = 0;
    let first = 0;
    let last = 0;
    for (let at = 1; at < v.length; at++) {
      if (v[at - 1]! >= 0 || v[at]! < 0) continue;
      const where = at - v[at]! / (v[at]! - v[at - 1]!);
      if (crossings === 0) first = where;
      last = where;
      crossings += 1;
    }
    const hertz = ((crossings - 1) / (last - first)) * 10_240;
    expect(front.clockError).not.toBe(0);
    expect(hertz * (1 + front.clockError)).toBeCloseTo(60, 3);
  });

  test('other rates sample the same wave', () => {
    for (const rateHz of [1000, 8000, 10_000, 20_480]) {
      const { v } = sample({ rateHz }, 2 * rateHz, sine(170), sine(30));
      expect(rms(v.slice(rateHz)) / (170 / Math.SQRT2)).toBeCloseTo(1, 3);
    }
  });

  test('noise has the deviation it is given, offset is a part of full scale', () => {
    const quiet = (): number => 0;
    const { v } = sample({ noisePpm: 1000, offsetPpm: 2000 }, 20_000, quiet, quiet);
    const mean = v.reduce((sum, each) => sum + each, 0) / v.length;
    expect(rms(v.map((each) => each - mean)) / (400 * 1e-3)).toBeCloseTo(1, 1);
    expect(Math.abs(mean)).toBeLessThan(400 * 2e-3);
    expect(Math.abs(mean)).toBeGreaterThan(1e-3);
  });

  test('a coil wanders slowly, a transformer does not', () => {
    const quiet = (): number => 0;
    const wander = (probe: 'rogowski' | 'transformer'): number =>
      rms(sample({ probe }, 4 * 10_240, quiet, quiet).i);
    expect(wander('transformer')).toBe(0);
    expect(wander('rogowski')).toBeGreaterThan(0.02);
    expect(wander('rogowski')).toBeLessThan(0.3);
  });

  test('its instants are its own: half a step between the plant’s is interpolated', () => {
    const rateHz = 12_000;
    const { v } = sample({ rateHz }, 12_000, sine(170), sine(30));
    // Delay of the filter alone, from the first samples of a settled second.
    const lag = leadOf(
      v.slice(6000).map((_, at) => sine(170)((6000 + at) / rateHz)),
      v.slice(6000),
      60 / rateHz,
    );
    expect(lag).toBeLessThan(0);
    expect(lag).toBeGreaterThan(-1.2);
    expect(stepsPerSecond / rateHz).not.toBe(Math.round(stepsPerSecond / rateHz));
  });
});
