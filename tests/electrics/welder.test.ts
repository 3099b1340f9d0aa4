import { describe, expect, test } from 'vitest';
import { steps, stepsPerSecond } from '../../simulator/electrics/clockwork.ts';
import { scenarioByName } from '../../simulator/electrics/index.ts';
import { Random } from '../../simulator/electrics/random.ts';
import type { Work } from '../../simulator/electrics/scenario.ts';
import { Welder } from '../../simulator/electrics/welder.ts';

const base = scenarioByName('healthy-steel')!.bays[0]!.work;

/** Seconds of every pull of the trigger and of every pause, over some time. */
function pulls(changes: Partial<Work>, seconds: number, seed = 1) {
  const welder = new Welder({ ...base, ...changes }, new Random(seed, 'welder'));
  const on: { startS: number; seconds: number; amps: number }[] = [];
  let since = 0;
  for (let step = 1; step <= steps(seconds); step++) {
    if (!welder.step()) continue;
    const nowS = step / stepsPerSecond;
    if (welder.trigger) since = nowS;
    else on.push({ startS: since, seconds: nowS - since, amps: welder.amps });
  }
  return on;
}

describe('welder', () => {
  test('begins when told, within a hand’s breadth', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const [first] = pulls({ firstArcS: 2.2 }, 20, seed);
      expect(first!.startS).toBeGreaterThanOrEqual(2.2);
      expect(first!.startS).toBeLessThan(2.55);
    }
  });

  test('lays beads and rows of tacks, each within its span', () => {
    const on = pulls({ beadShare: 0.5, beadS: [3, 8], tackS: [0.4, 0.9] }, 300);
    const tacks = on.filter(({ seconds }) => seconds < 1);
    const beads = on.filter(({ seconds }) => seconds >= 1);
    expect(tacks.length).toBeGreaterThan(10);
    expect(beads.length).toBeGreaterThan(5);
    for (const { seconds } of tacks) expect(seconds).toBeGreaterThan(0.39);
    for (const { seconds } of beads) expect(seconds > 2.9 && seconds < 8.1).toBe(true);
  });

  test('begins with the kind of work that is asked for', () => {
    for (let seed = 1; seed <= 10; seed++) {
      expect(pulls({ first: 'tacks', beadShare: 1 }, 15, seed)[0]!.seconds).toBeLessThan(1);
      expect(pulls({ first: 'bead', beadShare: 0 }, 15, seed)[0]!.seconds).toBeGreaterThan(2);
    }
  });

  test('turns the machine to its setting of the hour', () => {
    const on = pulls(
      {
        settings: [
          { fromS: 0, amps: 110 },
          { fromS: 40, amps: 80 },
        ],
      },
      90,
    );
    for (const { startS, amps } of on) expect(amps).toBe(startS < 40 ? 110 : 80);
  });

  test('tries an arc that went out again soon, and after three gives it a rest', () => {
    const welder = new Welder({ ...base, pauseS: [50, 60] }, new Random(1, 'welder'));
    const tries: number[] = [];
    for (let step = 1; step <= steps(30); step++) {
      if (!welder.step() || !welder.trigger) continue;
      tries.push(step / stepsPerSecond);
      welder.lost();
    }
    expect(tries).toHaveLength(3);
    expect(tries[1]! - tries[0]!).toBeGreaterThan(0.8);
    expect(tries[2]! - tries[1]!).toBeLessThan(1.7);
  });
});
