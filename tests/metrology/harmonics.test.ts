import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Fft } from '../../shared/metrology/fft.ts';
import { emptyHarmonics, HIGHEST_ORDER, readHarmonics } from '../../shared/metrology/harmonics.ts';
import { Spectrum } from '../../shared/metrology/spectrum.ts';
import { SpectrumTools } from '../../shared/metrology/spectrum-tools.ts';
import type { Line } from './spectrum-window.ts';
import { valueAt, windowOf } from './spectrum-window.ts';

/** IEC 61000-4-7, class I, from memory: 5 % of what is 1 % of nominal or more, else 0.05 %. */
const classOne = (size: number, nominal: number) => Math.max(0.05 * size, 0.0005 * nominal);
const unity = new Float64Array(HIGHEST_ORDER + 1).fill(1);
const fundamental: Line = { size: 120, order: 1, degrees: 25 };

/** Groups of lines that fall on bins exactly, without any reading between samples. */
function exact(lines: readonly Line[], top = 50) {
  const input = Float64Array.from({ length: 2048 }, (_, n) => valueAt(lines, 60, n / 10_240));
  const re = new Float64Array(1025);
  const im = new Float64Array(1025);
  new Fft(2048).realForward(input, re, im);
  return readHarmonics(re, im, 2048, 12, unity, top, emptyHarmonics());
}

describe('groups of IEC 61000-4-7', () => {
  test('an interharmonic half way belongs to both groups by half, to no subgroup', () => {
    const found = exact([fundamental, { size: 4, order: 7.5 }]);
    expect(found.groups[7]).toBeCloseTo(4 / Math.SQRT2, 9);
    expect(found.groups[8]).toBeCloseTo(4 / Math.SQRT2, 9);
    expect(found.subgroups[7]).toBeLessThan(1e-9);
    expect(found.subgroups[8]).toBeLessThan(1e-9);
    expect(found.interharmonics[7]).toBeCloseTo(4, 9);
    expect(found.interharmonics[6]).toBeLessThan(1e-9);
  });

  test('a neighbouring bin counts to the subgroup, two bins away to the group alone', () => {
    const near = exact([fundamental, { size: 3, order: 5 }, { size: 4, order: 5 + 1 / 12 }]);
    expect(near.subgroups[5]).toBeCloseTo(5, 9);
    expect(Math.hypot(near.re[5]!, near.im[5]!)).toBeCloseTo(3, 9);
    const far = exact([fundamental, { size: 3, order: 5 }, { size: 4, order: 5 + 2 / 12 }]);
    expect(far.subgroups[5]).toBeCloseTo(3, 9);
    expect(far.groups[5]).toBeCloseTo(5, 9);
    expect(far.interharmonics[5]).toBeCloseTo(4, 9);
  });

  test('THD counts orders 2 to 40 against the fundamental, THDS subgroups, THDG groups', () => {
    const found = exact([
      { size: 100, order: 1 },
      { size: 3, order: 3 },
      { size: 4, order: 5 },
      { size: 12, order: 7 + 1 / 12 },
      { size: 84, order: 9 + 4 / 12 },
      { size: 50, order: 41 },
    ]);
    expect(found.thd).toBeCloseTo(0.05, 12);
    expect(found.thds).toBeCloseTo(0.13, 12);
    expect(found.thdg).toBeCloseTo(0.85, 12);
  });

  test('the direct component keeps its sign', () => {
    expect(exact([{ size: -1.5, order: 0 }, fundamental]).dc).toBeCloseTo(-1.5, 12);
  });

  test('phasors are r.m.s. values with the cosine at the start of the window', () => {
    const found = exact([fundamental]);
    expect(found.re[1]).toBeCloseTo(120 * Math.cos((25 * Math.PI) / 180), 9);
    expect(found.im[1]).toBeCloseTo(120 * Math.sin((25 * Math.PI) / 180), 9);
  });

  test('without a fundamental distortion is unknown; above the top order all is nil', () => {
    const found = exact([{ size: 1, order: 30 }], 20);
    expect(exact([]).thd).toBeNaN();
    expect(found.top).toBe(20);
    expect(found.groups[30]).toBe(0);
  });
});

describe('Spectrum between fractional borders', () => {
  const rates = [1000, 2000, 4000, 8000, 10_240, 30_707.244];
  const frequencies = [42.5, 50, 50.07, 57.5 - 3, 59.93, 60, 60.013, 69];

  test.each(rates)('at %f/s every order it reads is within class I', (rateHz) => {
    for (const hertz of frequencies) {
      const orders = Array.from({ length: 49 }, (_, n) => n + 2);
      const lines = [
        fundamental,
        ...orders.map((order) => ({ size: 2.4, order, degrees: 37 * order })),
      ];
      const seen = lines.filter(({ order }) => (order + 0.5) * hertz <= 0.42 * rateHz);
      const { volts } = windowOf({ rateHz, hertz, volts: seen, amps: seen }).pairs[0]!;
      expect(volts.top).toBe(seen.length);
      for (const { order, size } of seen) {
        const measured = volts.subgroups[order]!;
        expect(Math.abs(measured - size), `${hertz} Hz, order ${order}`).toBeLessThan(
          classOne(size, 120) / 5,
        );
      }
    }
  });

  test.each([
    ['state 1', 60.3, [3, 5, 29], [0.03, 0.02, 0.01], 0],
    ['state 2', 59, [3, 5, 29], [0.1, 0.05, 0.05], 7.5],
    ['state 3', 61, [7, 13, 25], [0.1, 0.05, 0.05], 3.5],
  ] as const)('influence quantities, %s: class I', (_name, hertz, orders, parts, between) => {
    const lines: Line[] = [fundamental];
    orders.forEach((order, n) => {
      lines.push({ size: 120 * parts[n]!, order, degrees: order === 7 ? 180 : 0 });
    });
    if (between > 0) lines.push({ size: 1.2, order: between });
    const row = windowOf({ rateHz: 10_240, hertz, volts: lines, amps: lines });
    const { volts } = row.pairs[0]!;
    orders.forEach((order, n) => {
      const size = 120 * parts[n]!;
      expect(Math.abs(volts.subgroups[order]! - size)).toBeLessThan(classOne(size, 120));
    });
    if (between > 0) {
      const measured = volts.interharmonics[Math.floor(between)]!;
      expect(Math.abs(measured - 1.2)).toBeLessThan(classOne(1.2, 120));
    }
    const silent = [2, 4, 9, 11, 17, 31, 41, 50];
    for (const order of silent) expect(volts.subgroups[order]).toBeLessThan(0.0005 * 120);
  });

  test('leakage with a border off by 0.03 % stays under 0.1 % of the fundamental', () => {
    // The sync may err so much (IEC 61000-4-7, 4.4.1): 60.018 Hz read as 60.
    const lines = [fundamental];
    const off = windowOf({
      rateHz: 10_240,
      hertz: 60,
      volts: lines,
      amps: [{ size: 9, order: 1.0003 }],
    });
    const { amps } = off.pairs[0]!;
    for (let order = 2; order <= 50; order++) {
      expect(amps.subgroups[order]! / 9, `order ${order}`).toBeLessThan(0.001);
    }
  });

  test('power after IEEE 1459 from a window: the textbook example', () => {
    const volts: Line[] = [
      { size: 100, order: 1, degrees: 0 },
      { size: 8, order: 3, degrees: -70 },
      { size: 15, order: 5, degrees: 140 },
      { size: 5, order: 7, degrees: 20 },
    ];
    const amps: Line[] = [
      { size: 100, order: 1, degrees: -30 },
      { size: 20, order: 3, degrees: -165 },
      { size: 15, order: 5, degrees: 233 },
      { size: 10, order: 7, degrees: 288 },
    ];
    for (const hertz of [50.04, 60.03]) {
      const { power } = windowOf({ rateHz: 10_240, hertz, volts, amps }).pairs[0]!;
      const wanted = {
        P: 8632.789,
        P1: 8660.254,
        Q1: 5000,
        S: 10_517.493,
        S1: 10_000,
        N: 6007.713,
      };
      for (const [key, value] of Object.entries(wanted)) {
        const measured = power[key as keyof typeof power];
        expect(Math.abs(measured / value - 1), key).toBeLessThan(5e-5);
      }
      expect(power.PF1).toBeCloseTo(Math.cos(Math.PI / 6), 4);
      // A small difference of large figures: P − P1.
      expect(Math.abs(power.PH + 27.465)).toBeLessThan(0.5);
    }
  });

  test('crest factor of a sine is √2; flat tops lower it, peaks raise it', () => {
    const peaked = [fundamental, { size: 30, order: 3, degrees: 75 }];
    const flat = [fundamental, { size: 12, order: 3, degrees: 75 + 180 }];
    const row = windowOf({ rateHz: 10_240, hertz: 60, volts: [fundamental], amps: peaked });
    expect(row.pairs[0]!.voltsCrest).toBeCloseTo(Math.SQRT2, 3);
    expect(row.pairs[0]!.ampsCrest).toBeCloseTo((150 * Math.SQRT2) / Math.hypot(120, 30), 3);
    const low = windowOf({ rateHz: 10_240, hertz: 60, volts: flat, amps: flat });
    expect(low.pairs[0]!.voltsCrest).toBeLessThan(1.3);
  });

  test('scaling scales, and a shift of the window turns phasors alone', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
        fc.double({ min: 20, max: 400, noNaN: true }),
        (scale, start) => {
          const lines = [fundamental, { size: 8, order: 5, degrees: 10 }];
          const scaled = lines.map((line) => ({ ...line, size: line.size * scale }));
          const { volts } = windowOf({
            rateHz: 5000,
            hertz: 60.1,
            volts: scaled,
            amps: scaled,
            start,
          }).pairs[0]!;
          expect(volts.subgroups[1]! / scale).toBeCloseTo(120, 2);
          expect(volts.subgroups[5]! / scale).toBeCloseTo(8, 2);
          expect(volts.thds).toBeCloseTo(8 / 120, 4);
        },
      ),
      { numRuns: 30 },
    );
  });

  test('where blocks are cut changes nothing, bit for bit', () => {
    const lines = [fundamental, { size: 8, order: 5 }, { size: 2, order: 11.3 }];
    const wave = { rateHz: 10_240, hertz: 60.02, volts: lines, amps: lines };
    const whole = windowOf(wave, 4096);
    for (const block of [1, 7, 333]) {
      expect(windowOf(wave, block)).toEqual(whole);
    }
  });
});

describe('streams of one rate', () => {
  test('share tools and scratch memory, and read what each alone reads', () => {
    const tools = new SpectrumTools(10_240);
    const row = { parts: 12, flagged: false, whole: true, start: 50.4, end: 2100.1 };
    const sums = { urms: Float64Array.of(1), irms: Float64Array.of(1), watts: Float64Array.of(1) };
    const read = (shared: boolean) => {
      const told: number[][] = [];
      const spectra = [3, 7].map((order) => {
        const spectrum = new Spectrum(
          {
            rateHz: 10_240,
            pairs: 1,
            nominalHertz: 60,
            blockFrames: 64,
            ...(shared ? { tools } : {}),
          },
          { spectrum: ({ pairs }) => told.push([...pairs[0]!.volts.groups]) },
        );
        const wave = (n: number) =>
          Math.sin((n * 377) / 10_240) + 0.1 * Math.sin((n * 377 * order) / 10_240);
        for (let at = 0; at < 4096; at += 64) {
          const block = Float64Array.from({ length: 64 }, (_, n) => wave(at + n));
          spectrum.push([block, block], 64);
        }
        return spectrum;
      });
      for (const spectrum of spectra) spectrum.window({ ...row, ...sums });
      return told;
    };
    const shared = read(true);
    expect(shared).toEqual(read(false));
    expect(shared[0]![3]! / shared[0]![1]!).toBeCloseTo(0.1, 2);
    expect(shared[1]![7]! / shared[1]![1]!).toBeCloseTo(0.1, 2);
    expect(
      () => new Spectrum({ rateHz: 5000, pairs: 1, nominalHertz: 60, tools }, { spectrum() {} }),
    ).toThrow('rate');
  });
});

describe('a window that cannot be read is refused', () => {
  const row = (start: number, end: number, parts = 12) => ({
    start,
    end,
    parts,
    flagged: false,
    whole: true,
    urms: Float64Array.of(1),
    irms: Float64Array.of(1),
    watts: Float64Array.of(1),
  });
  const fed = () => {
    const rows: number[] = [];
    const spectrum = new Spectrum(
      { rateHz: 10_240, pairs: 1, nominalHertz: null },
      { spectrum: (told) => rows.push(told.start) },
    );
    const block = [new Float64Array(4096).fill(1), new Float64Array(4096).fill(1)];
    spectrum.push(block, 4096);
    return { spectrum, block, rows };
  };

  test('at the edges of what was pushed, cut short, or across a gap', () => {
    const { spectrum, block, rows } = fed();
    expect(spectrum.window(row(1, 2049))).toBe(false);
    expect(spectrum.window(row(2047, 4095))).toBe(false);
    expect(spectrum.window(row(100, 1124, 6))).toBe(false);
    expect(spectrum.window(row(100, 2148))).toBe(true);
    spectrum.skip(1000);
    spectrum.push(block, 4096);
    expect(spectrum.window(row(4000, 6048))).toBe(false);
    expect(spectrum.window(row(5200, 7248))).toBe(true);
    expect(rows).toEqual([100, 5200]);
  });

  test('long streams keep the latest 0.6 s at least', () => {
    const { spectrum, block, rows } = fed();
    for (let n = 0; n < 20; n++) spectrum.push(block, 4096);
    const end = 21 * 4096;
    expect(spectrum.window(row(end - 6140, end - 6140 + 2048))).toBe(true);
    expect(rows).toEqual([end - 6140]);
  });
});
