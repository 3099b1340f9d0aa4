import { describe, expect, test } from 'vitest';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { judged, plate240 } from './judged.ts';

/**
 * A stiff supply in the closed form of sines: voltages of given size and angle, all of them
 * multiplied by `swell` for a while; a machine takes 20 A from 1 s to 6 s. Its loop is the pair
 * itself, both legs of a split phase, or three lines of a wye.
 */
const rateHz = 8000;
const seconds = 7;
const arc = { startS: 1, endS: 6 };

interface Scene {
  /** Volts to neutral and angle in degrees, one entry a pair. */
  legs: readonly (readonly [number, number])[];
  /** Angle of each pair's current behind its voltage's, degrees. */
  lags: readonly number[];
  swell: { startS: number; endS: number; by: number };
  plate?: Plate;
}

function record({ legs, lags, swell, plate = plate240 }: Scene): Judgement {
  const frames = seconds * rateHz;
  const channels = legs.flatMap(([size, degrees], pair) => {
    const [v, i] = [new Float64Array(frames), new Float64Array(frames)];
    for (let n = 0; n < frames; n++) {
      const t = n / rateHz;
      const turn = 2 * Math.PI * 60 * t + (degrees * Math.PI) / 180;
      const burns = t >= arc.startS && t < arc.endS;
      const by = t >= swell.startS && t < swell.endS ? swell.by : 1;
      // 0.05 Ω: the voltage falls a little as it welds.
      const volts = by * size - (burns ? 1 : 0);
      v[n] = Math.SQRT2 * volts * Math.cos(turn);
      const lag = (lags[pair]! * Math.PI) / 180;
      i[n] = Math.SQRT2 * (burns ? 20 : 0.3) * Math.cos(turn - lag);
    }
    return [v, i];
  });
  return judged(rateHz, channels, { plate });
}

const threePhase: Plate = {
  name: 'three-phase welder',
  phases: 3,
  supply: [{ U1: 400, I1max: 30, I1eff: 15 }],
};
const by = 290 / 240;
const inArc = { startS: 3, endS: 4, by };
const scenes = {
  'one pair': { legs: [[240, 20]], lags: [10] },
  'two legs of a split phase': {
    legs: [
      [120, 20],
      [120, 200],
    ],
    lags: [10, 10],
  },
  'three lines of a wye': {
    legs: [
      [400 / Math.sqrt(3), 20],
      [400 / Math.sqrt(3), -100],
      [400 / Math.sqrt(3), 140],
    ],
    lags: [10, 10, 10],
    plate: threePhase,
  },
} as const;

const high = (judgement: Judgement) =>
  judgement.findings.filter(
    ({ rule, saying }) => rule === 'plate-voltage' && saying?.name === 'voltageRose',
  );

describe.each(Object.entries(scenes))('a swell of a second, %s', (_, scene) => {
  const U1 = 'plate' in scene ? 400 : 240;

  test('while an arc burns it is listed, and the plate is not held', () => {
    const judgement = record({ ...scene, swell: inArc });
    expect(judgement.swells).toHaveLength(1);
    const [swell] = judgement.swells;
    expect(Math.abs(swell!.startS - 3)).toBeLessThan(0.02);
    expect(Math.abs(swell!.durationS - 1)).toBeLessThan(0.03);
    expect(Math.abs(swell!.highestVolts / (U1 * by) - 1)).toBeLessThan(0.01);
    expect(Math.abs(swell!.percentOver - 20.8)).toBeLessThan(1.2);
    expect(swell!.category).toBe('momentary swell');
    expect(judgement.sags).toEqual([]);
    const [found] = high(judgement);
    expect(found).toMatchObject({
      verdict: 'underpowered',
      required: true,
      limit: U1 === 240 ? 264 : 440,
    });
    expect(Math.abs(found!.measured! / (U1 * by) - 1)).toBeLessThan(0.01);
    expect(judgement.arcs[0]!.verdict).toBe('underpowered');
    expect(judgement.verdict).toBe('underpowered');
    expect(judgement.findings).toContainEqual(
      expect.objectContaining({ rule: 'sag', verdict: 'marginal', required: false }),
    );
  });

  test('long after the arc it is listed and said, and holds no verdict down', () => {
    const judgement = record({ ...scene, swell: { startS: 6.6, endS: 6.8, by } });
    expect(judgement.swells).toHaveLength(1);
    expect(high(judgement)).toEqual([]);
    const said = judgement.findings.find(({ saying }) => saying?.name === 'swell');
    expect(said).toMatchObject({ rule: 'sag', required: false, verdict: 'marginal' });
  });

  test('of 5 % is none', () => {
    const judgement = record({ ...scene, swell: { ...inArc, by: 1.05 } });
    expect(judgement.swells).toEqual([]);
    expect(high(judgement)).toEqual([]);
    expect(judgement.arcs[0]!.verdict).not.toBe('underpowered');
  });
});

test('a swell of two cycles is listed; 200 ms of it are not over what the plate allows', () => {
  const judgement = record({
    ...scenes['one pair'],
    swell: { startS: 3, endS: 3 + 2 / 60, by },
  });
  expect(judgement.swells).toHaveLength(1);
  expect(judgement.swells[0]!.category).toBe('instantaneous swell');
  expect(high(judgement)).toEqual([]);
});

test('the highest 200 ms are the true sliding window: half of it swells', () => {
  const judgement = record({
    ...scenes['one pair'],
    swell: { startS: 3, endS: 3.1, by: 1.3 },
  });
  const truth = Math.sqrt((239 ** 2 + 311 ** 2) / 2);
  const { maxVolts200ms } = judgement.arcs[0]!.channels[0]!;
  expect(Math.abs(maxVolts200ms! / truth - 1)).toBeLessThan(0.002);
});

test('one leg swells and the other sags, as with a lost neutral: both are listed', () => {
  const frames = seconds * rateHz;
  const channels = [0, 180].flatMap((degrees, pair) => {
    const [v, i] = [new Float64Array(frames), new Float64Array(frames)];
    for (let n = 0; n < frames; n++) {
      const t = n / rateHz;
      const turn = 2 * Math.PI * 60 * t + (degrees * Math.PI) / 180;
      const lost = t >= 3 && t < 4;
      v[n] = Math.SQRT2 * (lost ? [150, 90][pair]! : 120) * Math.cos(turn);
      i[n] = Math.SQRT2 * 0.3 * Math.cos(turn);
    }
    return [v, i];
  });
  const judgement = judged(rateHz, channels, {});
  expect(judgement.swells).toMatchObject([{ channel: 1 }]);
  expect(judgement.sags).toMatchObject([{ channel: 2 }]);
});
