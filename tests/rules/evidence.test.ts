import { describe, expect, test } from 'vitest';
import { lackOf, leastEvidence, loadSeen, secondsAtLoad } from '../../shared/rules/evidence.ts';
import type { SupplyEvidence } from '../../shared/rules/facts.ts';
import { fullLoad } from '../../shared/rules/full-load.ts';
import { plate, setting, view } from './given.ts';

const least = leastEvidence['full-load'];
const enough = { share: 1 / 4, seconds: 1, steps: 2 };

describe('what a rule lacks', () => {
  test('each of share, seconds and steps by itself, and all of them at the border', () => {
    expect(lackOf(least, [enough], 1)).toBeNull();
    for (const change of [{ share: 0.249 }, { seconds: 0.99 }, { steps: 1 }])
      expect(lackOf(least, [{ ...enough, ...change }], 1)).toMatchObject(change);
  });

  test('the weakest loop of two and of three counts', () => {
    const light = { ...enough, share: 0.2 };
    for (const loops of [
      [enough, light],
      [light, enough],
      [enough, enough, light],
    ])
      expect(lackOf(least, loops, 1)).toMatchObject({ of: 'load', share: 0.2 });
    expect(lackOf(least, [enough, enough, enough], 3)).toBeNull();
  });

  test('three phases are not proved by one or two of them', () => {
    expect(lackOf(least, [enough], 3)).toEqual({ of: 'loops', measured: 1, needed: 3 });
    expect(lackOf(least, [enough, enough], 3)).toEqual({ of: 'loops', measured: 2, needed: 3 });
  });

  test('every row of the table has a reason and a source', () => {
    for (const row of Object.values(leastEvidence)) {
      expect(row.reason.length).toBeGreaterThan(20);
      expect(row.source).not.toBe('');
    }
  });
});

describe('time at load', () => {
  const at = (durationS: number, amps: number, lostFraction = 0, ampsPerLine = 1) =>
    secondsAtLoad(setting({ ampsPerLine }), { startS: 4, endS: 4 + durationS, lostFraction }, amps);

  test('an arc of a quarter of I1max and 200 ms counts, what was lost of it does not', () => {
    expect(at(1.5, 7.5)).toBeCloseTo(1.5, 9);
    expect(at(1.5, 7.4)).toBe(0);
    expect(at(0.19, 30)).toBe(0);
    expect(at(2, 20, 0.25)).toBeCloseTo(1.5, 9);
  });

  test('amperes between the lines of three phases are √3 of the plate', () => {
    expect(at(1, 12.9, 0, Math.sqrt(3))).toBe(0);
    expect(at(1, 13, 0, Math.sqrt(3))).toBeCloseTo(1, 9);
  });
});

describe('full load is proved by loads', () => {
  const evidence = (loops: number, change = {}, loadedS = 2): SupplyEvidence => ({
    pairs: Array.from({ length: loops }, () => view(change)),
    loaded: Array.from({ length: loops }, () => loadedS),
    behaviour: 'constant-power',
  });
  const ask = (supply: SupplyEvidence, change = {}) =>
    fullLoad.ask({ ...setting(change), supply })[0]!;

  test('a tack of 0.13 s at 26 % proves nothing, and it says what would', () => {
    const found = ask(evidence(1, { largestStepAmps: 7.8, steps: 2 }, 0));
    expect(found.verdict).toBe('unproven');
    expect(found.says).toMatch(/^Weld a bead of at least 1 s at 8.0 A or more\./);
  });

  test('a bead of two seconds at 80 % does, with one loop, two and three', () => {
    for (const loops of [1, 2, 3]) expect(ask(evidence(loops)).verdict).toBe('adequate');
  });

  test('a supply that is too weak is so on the lightest evidence', () => {
    expect(ask(evidence(1, { ohmsR: 1.5, largestStepAmps: 7 }, 0)).verdict).toBe('underpowered');
  });

  test('a plate of three phases asks for all three', () => {
    const three = { plate: { ...plate, phases: 3 as const } };
    expect(ask(evidence(1), three).says).toMatch(/needs 3 phases and the sensor measured 1/);
    expect(ask(evidence(2), three).verdict).toBe('unproven');
    expect(ask(evidence(3), three).verdict).toBe('adequate');
  });

  test('a described supply was worked out and lacks nothing', () => {
    const described = { pairs: [view({ largestStepAmps: null, steps: null })] };
    const seen = loadSeen(setting(), { ...described, behaviour: 'unknown' });
    expect(lackOf(leastEvidence['full-load'], seen, 1)).toBeNull();
  });
});
