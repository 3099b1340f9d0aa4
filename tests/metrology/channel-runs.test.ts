import { describe, expect, test } from 'vitest';
import { ChannelRuns } from '../../shared/metrology/channel-runs.ts';
import { gaussian } from '../watch/synth.ts';

interface Drawn {
  rateHz: number;
  hertz: number;
  /** Of the converter; 0 for values that were never counts. */
  bits: number;
  /** Volts at which the input ends; null where its range is wide enough. */
  limit: number | null;
  /** Third and fifth harmonic, parts: both lower the crest. */
  third: number;
  fifth: number;
  noise: number;
}

const crest = 340;
const rates = [1_000, 2_560, 5_000, 10_240, 20_480, 100_000];

function uniform(seed: number): (low: number, high: number) => number {
  let state = (seed * 2_654_435_761) >>> 0 || 1;
  return (low, high) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return low + ((high - low) * ((state >>> 0) + 0.5)) / 2 ** 32;
  };
}

/** Two seconds of a drifting voltage in closed form, counted and cut off as a converter does. */
function wave(drawn: Drawn, seed: number): Float64Array {
  const { rateHz, hertz, bits, limit, third, fifth, noise } = drawn;
  const full = limit ?? 1.3 * crest;
  const count = bits === 0 ? 0 : full / (2 ** (bits - 1) - 1);
  const draw = gaussian(seed);
  const phase = uniform(seed)(0, 6.28);
  return Float64Array.from({ length: 2 * rateHz }, (_, n) => {
    const turn = (2 * Math.PI * hertz * n) / rateHz + phase;
    const size = crest * (1 - 0.006 * Math.sin((2 * Math.PI * 0.3 * n) / rateHz));
    const shape = Math.cos(turn) + third * Math.cos(3 * turn) + fifth * Math.cos(5 * turn);
    const value = size * shape + noise * draw();
    const counted = count === 0 ? value : Math.round(value / count) * count;
    return Math.max(-full, Math.min(full, counted));
  });
}

function oddsOf(drawn: Drawn, seed: number) {
  const runs = new ChannelRuns(drawn.rateHz, drawn.hertz < 55 ? 50 : 60);
  const samples = wave(drawn, seed);
  for (let from = 0; from < samples.length; from += 700) {
    const block = samples.subarray(from, from + 700);
    runs.push(block, block.length);
  }
  return runs.odds();
}

function draw(seed: number): Drawn {
  const next = uniform(seed);
  return {
    rateHz: rates[Math.floor(next(0, rates.length))]!,
    hertz: (next(0, 1) < 0.5 ? 50 : 60) * next(0.998, 1.002),
    bits: [8, 10, 12, 14, 16, 0][Math.floor(next(0, 6))]!,
    limit: null,
    third: 0,
    fifth: 0,
    noise: crest * [0, 1e-5, 1e-4, 1e-3][Math.floor(next(0, 4))]!,
  };
}

describe('a clipped input', () => {
  test.each([12, 14, 16, 0])('%i bits, from 3 % off the crest on, at every rate', (bits) => {
    let missed = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const drawn = { ...draw(seed), bits, limit: crest * uniform(seed + 99)(0.8, 0.97) };
      if (drawn.rateHz === 1_000) continue;
      if (oddsOf(drawn, seed).clipped < 3) missed++;
    }
    expect(missed).toBe(0);
  });

  test('8 bits, from 12 % off the crest on', () => {
    for (let seed = 1; seed <= 30; seed++) {
      const drawn = { ...draw(seed), rateHz: 10_240, bits: 8, limit: crest * 0.88 };
      expect(oddsOf(drawn, seed).clipped, `seed ${seed}`).toBeGreaterThan(20);
    }
  });

  test('a thousand samples a second: a run of two counts where no two runs are left alike', () => {
    const drawn = { ...draw(1), rateHz: 1_000, hertz: 59.93, bits: 16, noise: 0 };
    expect(oddsOf({ ...drawn, limit: crest * 0.93 }, 1).clipped).toBeGreaterThan(20);
  });

  test('one side alone, as an amplifier with an offset cuts', () => {
    const runs = new ChannelRuns(10_240, 60);
    const samples = wave({ ...draw(3), rateHz: 10_240, bits: 16, limit: null }, 3);
    runs.push(
      samples.map((each) => Math.min(300, each)),
      samples.length,
    );
    // Two seconds of 50 or 60 Hz.
    expect(runs.odds().clipped).toBeGreaterThan(95);
  });
});

describe('an input that is wide enough', () => {
  test('round and flat tops of every rate, width and noise are not clipped', () => {
    for (let seed = 1; seed <= 250; seed++) {
      const next = uniform(seed + 500);
      const flat = seed % 2 === 0;
      const third = flat ? next(-0.1, -0.02) : next(-0.01, 0.01);
      const fifth = flat ? next(0, 0.02) : next(-0.01, 0.01);
      const drawn = { ...draw(seed), third, fifth };
      const { clipped, heldSeconds, stillSeconds } = oddsOf(drawn, seed);
      expect(clipped, JSON.stringify(drawn)).toBeLessThan(3);
      expect(heldSeconds, JSON.stringify(drawn)).toBe(0);
      expect(stillSeconds, JSON.stringify(drawn)).toBeLessThan(0.012);
    }
  });

  test('an exact sine whose rate is a multiple of its own: equal samples either side', () => {
    const samples = Float64Array.from({ length: 10_000 }, (_, n) =>
      Math.cos((Math.PI * (2 * n + 1)) / 200),
    );
    const runs = new ChannelRuns(10_000, 50);
    runs.push(samples, samples.length);
    expect(runs.odds().clipped).toBe(0);
  });

  test('a level that was passed later was no limit', () => {
    const cut = wave({ ...draw(5), rateHz: 10_240, bits: 16, limit: 300 }, 5);
    const runs = new ChannelRuns(10_240, 60);
    runs.push(cut, cut.length);
    expect(runs.odds().clipped).toBeGreaterThan(100);
    runs.push(Float64Array.of(0, 310, 0, -310, 0), 5);
    expect(runs.odds().clipped).toBe(0);
  });
});

describe('values that were repeated', () => {
  const whole = wave({ ...draw(7), rateHz: 10_240, hertz: 60, bits: 16, limit: null }, 7);
  const held = (from: number, count: number) =>
    whole.map((value, n) => (n >= from && n < from + count ? whole[from]! : value));
  const push = (samples: Float64Array) => {
    const runs = new ChannelRuns(10_240, 60);
    runs.push(samples, samples.length);
    return runs;
  };

  test('between crest and rest two milliseconds are told, with its length', () => {
    // The first place past the middle at which the voltage passes half of its crest.
    const from = whole.findIndex((value, n) => n > 10_000 && Math.abs(value - 170) < 20);
    expect(push(held(from, 20)).odds().heldSeconds).toBeCloseTo(20 / 10_240, 4);
    expect(push(held(from, 2)).odds().heldSeconds).toBe(0);
  });

  test('a stretch that still lasts is told as well, and never one at rest', () => {
    const runs = push(whole);
    runs.push(new Float64Array(2_048).fill(323), 2_048);
    expect(runs.odds().stillSeconds).toBeCloseTo(0.2, 3);
    expect(runs.odds().stillAt).toBe(323);
    const quiet = push(whole);
    quiet.push(new Float64Array(20_480).fill(0.01), 20_480);
    expect(quiet.odds().stillSeconds).toBeLessThan(0.001);
  });

  test('a gap ends a run, and a mark begins anew', () => {
    const runs = push(whole);
    runs.push(new Float64Array(100).fill(200), 100);
    runs.skip();
    runs.push(new Float64Array(100).fill(200), 100);
    expect(runs.odds().stillSeconds).toBeCloseTo(100 / 10_240, 5);
    runs.push(whole, 2_000);
    expect(runs.odds().heldSeconds).toBeGreaterThan(0);
    runs.mark();
    runs.push(whole, 2_000);
    expect(runs.odds()).toMatchObject({ heldSeconds: 0, clipped: 0 });
  });
});
