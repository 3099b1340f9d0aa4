import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { copyRow, noiseOf, type Row, rowsOf, waveOf } from './core-signals.ts';

/** A dirty record: harmonics, noise, a dip, an arc. */
const recordOf = fc.record({
  rateHz: fc.constantFrom(1000, 2400, 5000, 10_240),
  hertz: fc.double({ min: 45, max: 66, noNaN: true }),
  phase: fc.double({ min: 0, max: 6, noNaN: true }),
  noise: fc.constantFrom(0, 0.5, 3),
  dipAt: fc.double({ min: 0.1, max: 0.5, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1e6 }),
});
type Recipe = Record<'rateHz' | 'hertz' | 'phase' | 'noise' | 'dipAt' | 'seed', number>;

function channelsOf({ rateHz, hertz, phase, noise, dipAt, seed }: Recipe): Float64Array[] {
  const harmonics = [
    [3, 0.05],
    [5, 0.04],
  ] as const;
  const seconds = 0.7;
  const common = { rateHz, seconds, hertz, phase, noise, harmonics };
  const v = waveOf({ ...common, volts: 230, seed, envelope: (t) => (t > dipAt ? 0.8 : 1) });
  const i = waveOf({ ...common, volts: 20, seed: seed + 1, envelope: (t) => +(t > dipAt) });
  return [v, i];
}

/** Bytes of every number in the rows: bit for bit, and −0 is not 0. */
function bytesOf(rows: readonly Row[]): Buffer {
  const numbers = rows.flatMap((row) => [
    ...[row.index, row.start, row.middle, row.end, row.hertz, +row.locked],
    ...[row.urms, row.irms, row.watts, row.uhalf, row.ihalf, row.whalf].flatMap((c) => [...c]),
    ...[row.u1re, row.u1im, row.i1re, row.i1im].flatMap((c) => [...c]),
  ]);
  return Buffer.from(Float64Array.from(numbers).buffer);
}

const runs = { numRuns: 40 };
const near = (a: number, b: number, part: number) => Math.abs(a - b) <= part * Math.abs(b) + part;

describe('properties of rows', () => {
  test('splitting the stream anywhere changes nothing, bit for bit', () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 3000 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(recordOf, lengths, (recipe, blocks) => {
        const channels = channelsOf(recipe);
        const options = { rateHz: recipe.rateHz, phasors: true };
        const whole = rowsOf(channels, options);
        expect(bytesOf(rowsOf(channels, { ...options, blocks })).equals(bytesOf(whole))).toBe(true);
      }),
      runs,
    );
  });

  test('and so it is one sample at a time', () => {
    const recipe = { rateHz: 10_240, hertz: 59.3, phase: 1, noise: 1, dipAt: 0.31, seed: 5 };
    const channels = channelsOf(recipe);
    const whole = bytesOf(rowsOf(channels, { rateHz: 10_240, phasors: true }));
    for (const blocks of [[1], [31], [32], [33], [1, 4000], [1024]]) {
      const split = bytesOf(rowsOf(channels, { rateHz: 10_240, phasors: true, blocks }));
      expect(split.equals(whole)).toBe(true);
    }
  });

  test('nor does it where the supply comes late, or a phase is lost and the sync moves', () => {
    const rateHz = 10_240;
    const common = { rateHz, seconds: 1.2, hertz: 59, volts: 120, noise: 0.1 };
    const late = waveOf({ ...common, envelope: (t) => +(t > 0.4) });
    const lost = waveOf({ ...common, envelope: (t) => (t > 0.5 ? 0.001 : 1) });
    const other = waveOf({ ...common, phase: 2, seed: 9 });
    for (const channels of [
      [late, late],
      [lost, lost, other, other],
    ]) {
      const whole = bytesOf(rowsOf(channels, { rateHz }));
      for (const blocks of [[1], [7, 1900], [1024], [5000]]) {
        expect(bytesOf(rowsOf(channels, { rateHz, blocks })).equals(whole)).toBe(true);
      }
    }
  });

  test('scaling scales: by a power of two bit for bit, by anything to rounding', () => {
    const scales = fc.double({ min: 1e-3, max: 1e3, noNaN: true });
    fc.assert(
      fc.property(recordOf, scales, (recipe, scale) => {
        const channels = channelsOf(recipe);
        const options = { rateHz: recipe.rateHz };
        const plain = rowsOf(channels, options);
        const scaled = rowsOf(
          channels.map((channel) => channel.map((value) => value * scale)),
          options,
        );
        expect(scaled.length).toBe(plain.length);
        scaled.forEach((row, n) => {
          expect(near(row.end, plain[n]!.end, 1e-9)).toBe(true);
          expect(near(row.urms[0]!, plain[n]!.urms[0]! * scale, 1e-9)).toBe(true);
          expect(near(row.irms[0]!, plain[n]!.irms[0]! * scale, 1e-9)).toBe(true);
          expect(near(row.watts[0]!, plain[n]!.watts[0]! * scale * scale, 1e-6)).toBe(true);
        });
        const doubled = rowsOf(
          channels.map((channel) => channel.map((value) => value * 8)),
          options,
        );
        doubled.forEach((row, n) => {
          expect(row.end).toBe(plain[n]!.end);
          expect(row.urms[0]).toBe(8 * plain[n]!.urms[0]!);
          expect(row.watts[0]).toBe(64 * plain[n]!.watts[0]!);
        });
      }),
      runs,
    );
  });

  test('counts and floats agree', () => {
    fc.assert(
      fc.property(recordOf, (recipe) => {
        const [v, i] = channelsOf(recipe);
        const counts = [v!.map((x) => Math.round(x / 0.02)), i!.map((x) => Math.round(x / 0.005))];
        const floats = [counts[0]!.map((n) => n * 0.02), counts[1]!.map((n) => n * 0.005)];
        const options = { rateHz: recipe.rateHz };
        const inCounts = rowsOf(counts, options);
        const inFloats = rowsOf(floats, options);
        expect(inCounts.length).toBe(inFloats.length);
        inCounts.forEach((row, n) => {
          const other = inFloats[n]!;
          expect(near(row.start, other.start, 1e-9)).toBe(true);
          expect(near(row.urms[0]! * 0.02, other.urms[0]!, 1e-9)).toBe(true);
          expect(near(row.irms[0]! * 0.005, other.irms[0]!, 1e-9)).toBe(true);
          expect(near(row.watts[0]! * 0.0001, other.watts[0]!, 1e-9)).toBe(true);
        });
      }),
      runs,
    );
  });

  test('a time shift shifts: a stream that begins later has the same rows, later', () => {
    const shifts = fc.integer({ min: 1, max: 2000 });
    fc.assert(
      fc.property(shifts, fc.double({ min: 45, max: 66, noNaN: true }), (shift, hertz) => {
        const rateHz = 10_240;
        const v = waveOf({ rateHz, seconds: 1.2, hertz, volts: 230 });
        const late = rowsOf([v.subarray(shift)], { rateHz });
        const all = rowsOf([v], { rateHz });
        const first = all.findIndex((row) => Math.abs(row.start - shift - late[0]!.start) < 5);
        late.forEach((row, n) => {
          const other = all[first + n];
          if (!other) return;
          expect(Math.abs(row.start + shift - other.start)).toBeLessThan(0.05);
          expect(near(row.urms[0]!, other.urms[0]!, 1e-4)).toBe(true);
        });
      }),
      runs,
    );
  });

  test('a gap told as a skip is the same wherever blocks end', () => {
    fc.assert(
      fc.property(
        recordOf,
        fc.integer({ min: 1, max: 700 }),
        fc.integer({ min: 1, max: 4000 }),
        fc.integer({ min: 1, max: 300 }),
        (recipe, at, gap, block) => {
          const channels = channelsOf(recipe);
          const run = (size: number) => {
            const rows: Row[] = [];
            const meter = new Meter(
              { rateHz: recipe.rateHz, pairs: 1, nominalHertz: null },
              { halfCycle: (row) => rows.push(copyRow(row)) },
            );
            const push = (from: number, to: number) => {
              for (let k = from; k < to; k += size) {
                const end = Math.min(to, k + size);
                meter.push(
                  channels.map((channel) => channel.subarray(k, end)),
                  end - k,
                );
              }
            };
            push(0, at);
            meter.skip(gap);
            push(at, channels[0]!.length);
            meter.end();
            return bytesOf(rows);
          };
          expect(run(block).equals(run(1e6))).toBe(true);
        },
      ),
      runs,
    );
  });
});

describe('properties of arcs', () => {
  function arcsOf(channels: readonly Float64Array[], rateHz: number, leastRise: number) {
    const arcs: number[] = [];
    const detector = new ArcDetector(
      { rateHz, leastRise },
      { began: (start) => arcs.push(start), ended: (_, end) => arcs.push(end) },
    );
    const meter = new Meter({ rateHz, pairs: 1, nominalHertz: null }, detector);
    meter.push(channels, channels[0]!.length);
    meter.end();
    detector.end(channels[0]!.length);
    return arcs;
  }

  test('any train of arcs and pauses over 0.25 s comes back within a cycle', () => {
    const span = fc.double({ min: 0.25, max: 0.8, noNaN: true });
    const train = fc.array(fc.tuple(span, span, fc.double({ min: 5, max: 60, noNaN: true })), {
      minLength: 1,
      maxLength: 5,
    });
    fc.assert(
      fc.property(train, fc.constantFrom(1000, 10_240), (spans, rateHz) => {
        const borders: number[] = [];
        let t = 0;
        for (const [pause, arc] of spans) borders.push((t += pause), (t += arc));
        const length = Math.round((t + 0.3) * rateHz);
        const random = noiseOf(3);
        const v = new Float64Array(length);
        const i = new Float64Array(length);
        for (let k = 0; k < length; k++) {
          const sine = Math.SQRT2 * Math.sin((2 * Math.PI * 60 * k) / rateHz);
          const n = borders.findIndex((border) => k / rateHz < border);
          const amps = n >= 0 && n % 2 === 1 ? spans[(n - 1) / 2]![2] : 0.4;
          v[k] = 120 * sine;
          i[k] = amps * sine + 0.03 * random();
        }
        const arcs = arcsOf([v, i], rateHz, 2);
        expect(arcs.length).toBe(borders.length);
        arcs.forEach((at, n) => {
          expect(Math.abs(at / rateHz - borders[n]!)).toBeLessThan(1 / 60);
        });
      }),
      { numRuns: 60 },
    );
  });

  test('counts give the arcs that floats give', () => {
    fc.assert(
      fc.property(recordOf, (recipe) => {
        const [v, i] = channelsOf(recipe);
        const counts = [v!.map((x) => Math.round(x * 50)), i!.map((x) => Math.round(x * 200))];
        const floats = [counts[0]!.map((n) => n / 50), counts[1]!.map((n) => n / 200)];
        const inCounts = arcsOf(counts, recipe.rateHz, 400);
        const inFloats = arcsOf(floats, recipe.rateHz, 2);
        expect(inCounts.length).toBe(inFloats.length);
        inCounts.forEach((at, n) => {
          expect(at).toBeCloseTo(inFloats[n]!, 6);
        });
      }),
      runs,
    );
  });
});
