import { describe, expect, test } from 'vitest';
import { Flickermeter, type FlickerRow } from '../../shared/metrology/flicker.ts';
import { FlickerStatistics } from '../../shared/metrology/flicker-statistics.ts';
import { play } from './flicker-signal.ts';
import { RECTANGULAR, SINUSOIDAL } from './flicker-tables.ts';

const lamps = ['120V60Hz', '230V50Hz'] as const;
const mains = { '120V60Hz': 60, '230V50Hz': 50 };

/** Highest Pinst of ten seconds after fourteen of settling. */
function peak(
  lamp: (typeof lamps)[number],
  rateHz: number,
  at: number,
  percent: number,
  shape: 'sinusoidal' | 'rectangular',
) {
  const meter = new Flickermeter({ rateHz, lamp });
  let highest = 0;
  let blocks = 0;
  const settled = (14 * rateHz) / 64;
  play(
    meter,
    { rateHz, hertz: mains[lamp], modulationHertz: at, change: percent / 100, shape },
    24,
    () => {
      if (++blocks > settled) highest = Math.max(highest, meter.pinst);
    },
  );
  return highest;
}

describe.each(lamps)('Pinst of a %s lamp', (lamp) => {
  test.each([
    ['sinusoidal', SINUSOIDAL],
    ['rectangular', RECTANGULAR],
  ] as const)('%s changes of the table peak at 1 within 8 percent', (shape, table) => {
    const { at, percent } = table[lamp];
    for (let n = 0; n < at.length; n++) {
      const highest = peak(lamp, 4000, at[n]!, percent[n]!, shape);
      expect(Math.abs(highest - 1), `${at[n]} Hz: ${highest}`).toBeLessThan(0.08);
    }
  });

  test.each([2000, 10_240, 15_360, 48_000])('reads 8.8 Hz as 1 at %i samples a second', (rate) => {
    const reference = lamp === '120V60Hz' ? 0.321 : 0.25;
    expect(peak(lamp, rate, 8.8, reference, 'sinusoidal')).toBeCloseTo(1, 2);
  });
});

describe('Flickermeter', () => {
  const signal = {
    rateHz: 2000,
    hertz: 60,
    modulationHertz: 8.8,
    change: 0.00321,
    shape: 'sinusoidal',
  } as const;

  test('twice the change is four times Pinst', () => {
    const once = peak('120V60Hz', 2000, 8.8, 0.321, 'sinusoidal');
    const twice = peak('120V60Hz', 2000, 8.8, 0.642, 'sinusoidal');
    expect(twice / once).toBeCloseTo(4, 3);
  });

  test('the voltage itself does not matter, only its changes', () => {
    const meters = [1, 0.37].map((scale) => {
      const meter = new Flickermeter({ rateHz: 2000, lamp: '120V60Hz' });
      const block = new Float64Array(2000);
      for (let at = 0; at < 40_000; at += 2000) {
        for (let n = 0; n < 2000; n++) {
          const t = (at + n) / 2000;
          block[n] = scale * Math.sin(120 * Math.PI * t) * (1 + 0.01 * Math.sin(30 * t));
        }
        meter.push(block, 2000);
      }
      return meter.pinst;
    });
    expect(meters[1]).toBeCloseTo(meters[0]!, 9);
  });

  test('where blocks are cut changes nothing, bit for bit', () => {
    const volts = Float64Array.from(
      { length: 120_000 },
      (_, n) => Math.sin(n * 0.0368) * (1 + 0.01 * Math.sin(n * 0.0051)),
    );
    const whole = new Flickermeter({ rateHz: 10_240, lamp: '120V60Hz' });
    whole.push(volts, volts.length);
    const cut = new Flickermeter({ rateHz: 10_240, lamp: '120V60Hz' });
    for (let at = 0, step = 1; at < volts.length; at += step, step = (step * 7 + 3) % 1013) {
      const block = volts.subarray(at, at + step);
      cut.push(block, block.length);
    }
    expect(cut.pinst).toBe(whole.pinst);
    expect(cut.pstSoFar).toBe(whole.pstSoFar);
    expect(whole.pinst).toBeGreaterThan(0);
  });

  test('a constant voltage has no flicker', () => {
    const meter = new Flickermeter({ rateHz: 2000, lamp: '120V60Hz' });
    play(meter, { ...signal, change: 0 }, 20);
    expect(meter.pinst).toBeLessThan(1e-3);
    expect(meter.pstSoFar).toBeLessThan(0.03);
  });

  test('dead wires have none either', () => {
    const meter = new Flickermeter({ rateHz: 2000, lamp: '120V60Hz' });
    meter.push(new Float64Array(30_000), 30_000);
    expect(meter.pinst).toBe(0);
  });

  test('says nothing before it has settled', () => {
    const meter = new Flickermeter({ rateHz: 2000, lamp: '120V60Hz' });
    play(meter, signal, 10);
    expect(meter.pinst).toBeNaN();
    expect(meter.pstSoFar).toBeNaN();
    expect(meter.secondsSoFar).toBe(0);
  });

  test('periods end at ticks of the clock; Plt needs twelve whole ones', () => {
    const rows: FlickerRow[] = [];
    // Sample 0 is at 9:50 of a period: the first tick comes after ten seconds.
    const meter = new Flickermeter(
      { rateHz: 1000, lamp: '120V60Hz', startedAt: 590e6 },
      { flicker: (row) => rows.push({ ...row }) },
    );
    play(meter, { ...signal, rateHz: 1000 }, 10 + 13 * 600 + 1);
    expect(rows.map((row) => row.end)).toEqual(
      Array.from({ length: 14 }, (_, n) => 10_000 + n * 600_000),
    );
    // The first ended before the filters settled, the second began so.
    expect(rows.map((row) => row.whole)).toEqual([false, false, ...new Array(12).fill(true)]);
    expect(rows[0]!.pst).toBeNaN();
    expect(rows[12]!.plt).toBeNaN();
    expect(rows[13]!.plt).toBeCloseTo(rows[13]!.pst, 6);
    expect(rows[13]!.pinstMax).toBeCloseTo(1, 2);
    // Constant Pinst of 1: √(0.0314 + 0.0525 + 0.0657 + 0.28 + 0.08) = 0.714, less the ripple.
    expect(rows[13]!.pst).toBeGreaterThan(0.69);
    expect(rows[13]!.pst).toBeLessThan(0.714);
  });

  test('a gap makes its period not whole and the filters start anew', () => {
    const rows: FlickerRow[] = [];
    const meter = new Flickermeter(
      { rateHz: 1000, lamp: '120V60Hz' },
      { flicker: (row) => rows.push({ ...row }) },
    );
    play(meter, { ...signal, rateHz: 1000 }, 700);
    meter.skip(5000);
    expect(meter.pinst).toBeNaN();
    play(meter, { ...signal, rateHz: 1000 }, 1200);
    expect(rows.map((row) => [row.end, row.whole])).toEqual([
      [600_000, false],
      [1_200_000, false],
      [1_800_000, true],
    ]);
  });
});

describe('FlickerStatistics', () => {
  test('levels of evenly spread values are their percentiles', () => {
    const statistics = new FlickerStatistics();
    for (let n = 1; n <= 10_000; n++) statistics.add(n / 1000);
    for (const percent of [0.1, 1, 10, 50, 80]) {
      expect(statistics.exceeded(percent)).toBeCloseTo(10 - percent / 10, 1);
    }
  });

  test('a constant level P has Pst = √(0.5096·P), to a class width', () => {
    const statistics = new FlickerStatistics();
    for (let n = 0; n < 1000; n++) statistics.add(4);
    expect(statistics.pst() / Math.sqrt(0.5096 * 4)).toBeCloseTo(1, 2);
  });

  test('levels beyond the classes are kept in the outermost', () => {
    const statistics = new FlickerStatistics();
    statistics.add(0);
    statistics.add(1e9);
    expect(statistics.samples).toBe(2);
    expect(statistics.exceeded(40)).toBeGreaterThan(16_000);
    expect(statistics.exceeded(90)).toBeLessThan(1e-4);
  });
});
