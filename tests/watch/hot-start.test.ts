import { describe, expect, test } from 'vitest';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { judged, plate240 } from './judged.ts';

/** 240 V behind 0.4 Ω; one arc from 1 s to 4 s; sines in closed form, one or two or three pairs. */
const rateHz = 10_240;
const hertz = 60;

interface Scene {
  /** R.m.s. current at a time. */
  amps(t: number): number;
  /** Multiplies the source's voltage; radians that its phase is ahead. */
  factor?(t: number): number;
  ahead?(t: number): number;
  ohms?: number;
}

/** The machine hangs between both legs where there are two, of equal halves. */
function strike({ amps, factor = () => 1, ahead = () => 0, ohms = 0.4 }: Scene, pairs: 1 | 2 = 1) {
  const frames = 5 * rateHz;
  const channels = Array.from({ length: pairs }, (_, pair) => {
    const sign = pair === 0 ? 1 : -1;
    const [v, i] = [new Float64Array(frames), new Float64Array(frames)];
    for (let n = 0; n < frames; n++) {
      const t = n / rateHz;
      const sine = Math.SQRT2 * sign * Math.cos(2 * Math.PI * hertz * t + 0.4 + ahead(t));
      v[n] = (sine * (240 * factor(t) - ohms * amps(t))) / pairs;
      i[n] = sine * amps(t);
    }
    return [v, i];
  }).flat();
  const judgement = judged(rateHz, channels, { plate: plate240 });
  expect(judgement.arcs).toHaveLength(1);
  const found = judgement.arcs[0]!.findings.find(({ rule }) => rule === 'strike-voltage')!;
  return { ...found, channel: judgement.arcs[0]!.channels[0]! };
}

const figuresOf = (finding: Finding) => finding.saying!.figures as { amps: number; low: number };
const hot = (t: number) => (t < 1 || t >= 4 ? 0.3 : t < 1.04 ? 54 : 27);

describe.each([1, 2] as const)('a hot start of 40 ms at twice the current, pairs: %s', (pairs) => {
  test('is told with the current that flowed in that cycle', () => {
    const found = strike({ amps: hot }, pairs);
    expect(Math.abs(figuresOf(found).amps - 54)).toBeLessThan(0.5);
    expect(Math.abs(figuresOf(found).low - (240 - 0.4 * 54))).toBeLessThan(0.5);
    expect(found.says).toMatch(/needs 216\.?0? V to start/);
    // The 200 ms that hold it know less.
    expect(found.channel.maxAmps200ms).toBeLessThan(36);
  });
});

describe('a phase jump of the source while the arc is struck', () => {
  const amps = (t: number) => (t < 1 || t >= 4 ? 0.3 : 27);
  const ohms = 12 / 27;

  test.each([20, 30, 45, 60])('of %s°, in a row of its own catching up, is no dip', (degrees) => {
    // Just before the arc, so that no window of the arc itself straddles the jump.
    const ahead = (t: number) => (t < 0.985 ? 0 : (-degrees * Math.PI) / 180);
    const found = strike({ amps, ahead, ohms });
    expect(Math.abs(found.measured! / 228 - 1)).toBeLessThan(0.004);
    expect(found.verdict).toBe('adequate');
  });

  test('hides no dip of one cycle: at the strike, and where the phase jumps back', () => {
    const dip = (t: number) => (t >= 1.06 && t < 1.06 + 1 / hertz ? 200 / 240 : 1);
    for (const degrees of [0, 20, 45]) {
      const ahead = (t: number) => (t < 0.985 ? 0 : (-degrees * Math.PI) / 180);
      const found = strike({ amps, ahead, factor: dip, ohms });
      expect(found.measured!).toBeLessThan(196);
      expect(found.verdict).toBe('underpowered');
    }
  });
});

test('a spike of 1 kV for 100 µs in the arc is neither high nor low', () => {
  const amps = (t: number) => (t < 1 || t >= 4 ? 0.3 : 20);
  const factor = (t: number) => (t >= 1.05 && t < 1.0501 ? 4 : 1);
  const found = strike({ amps, factor });
  expect(found.verdict).toBe('adequate');
  expect(found.channel.maxVolts200ms!).toBeLessThan(240);
});
