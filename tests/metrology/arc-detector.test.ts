import { describe, expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { noiseOf } from './core-signals.ts';

interface Found {
  start: number;
  end: number;
}

interface Scene {
  rateHz?: number;
  hertz?: number;
  seconds: number;
  /** R.m.s. supply current at a time. */
  amps: (t: number) => number;
  /** Current's angle behind the voltage. */
  lag?: number;
  /** Shape of the current over the voltage's angle; a sine by default, of r.m.s. 1. */
  shape?: (angle: number) => number;
  noise?: number;
  pairs?: number;
  scale?: number;
  leastRise?: number;
}

/** Arcs found in a scene, in seconds. */
function find(scene: Scene): { arcs: Found[]; began: number[] } {
  const { rateHz = 10_240, hertz = 60, pairs = 1, scale = 1, noise = 0, lag = 0 } = scene;
  const shape = scene.shape ?? ((angle: number) => Math.SQRT2 * Math.sin(angle));
  const length = Math.round(scene.seconds * rateHz);
  const random = noiseOf(11);
  const channels = Array.from({ length: 2 * pairs }, () => new Float64Array(length));
  for (let k = 0; k < length; k++) {
    const t = k / rateHz;
    for (let pair = 0; pair < pairs; pair++) {
      const angle = 2 * Math.PI * (hertz * t - pair / 3) + 0.7;
      channels[2 * pair]![k] = scale * 170 * Math.sin(angle);
      channels[2 * pair + 1]![k] =
        scale * (scene.amps(t) * shape(angle - lag) + (noise > 0 ? noise * random() : 0));
    }
  }
  const arcs: Found[] = [];
  const began: number[] = [];
  const leastRise = scene.leastRise ?? 2 * scale;
  const detector = new ArcDetector(
    { rateHz, leastRise },
    {
      began: (start) => began.push(start / rateHz),
      ended: (start, end) => arcs.push({ start: start / rateHz, end: end / rateHz }),
    },
  );
  const meter = new Meter({ rateHz, pairs, nominalHertz: null }, detector);
  meter.push(channels, length);
  meter.end();
  detector.end(length);
  return { arcs, began };
}

/** Expects exactly these arcs, borders within `cycles` of a cycle. */
function expectArcs(scene: Scene, arcs: readonly [number, number][], cycles = 0.5): void {
  const found = find(scene);
  expect(found.arcs).toHaveLength(arcs.length);
  expect(found.began).toHaveLength(arcs.length);
  const room = cycles / (scene.hertz ?? 60);
  arcs.forEach(([start, end], n) => {
    expect(Math.abs(found.arcs[n]!.start - start)).toBeLessThan(room);
    expect(Math.abs(found.arcs[n]!.end - end)).toBeLessThan(room);
    expect(found.began[n]).toBe(found.arcs[n]!.start);
  });
}

const during = (...spans: readonly [number, number, number][]) => {
  return (t: number) => spans.find(([from, to]) => t >= from && t < to)?.[2] ?? 0;
};

/** Narrow pulses of a capacitor-input rectifier: crest factor about 2.6, of r.m.s. 1. */
function pulses(angle: number): number {
  const sine = Math.sin(angle);
  return Math.abs(sine) > 0.9 ? Math.sign(sine) * 1.87 : 0;
}

describe('borders on a record of known truth', () => {
  for (const rateHz of [1000, 2400, 10_240, 44_100, 100_000]) {
    for (const hertz of [50, 60]) {
      test(`0 A, 20 A for two seconds, 0 A: ${rateHz}/s, ${hertz} Hz, within half a cycle`, () => {
        const amps = during([1, 3, 20]);
        expectArcs({ rateHz, hertz, seconds: 3.5, amps }, [[1, 3]]);
      });
    }
  }

  test('wherever in the cycle the arc begins and ends', () => {
    for (let eighth = 0; eighth < 8; eighth++) {
      const from = 0.5 + eighth / 480;
      const to = 1.2 + (eighth * 3) / 480;
      const amps = during([from, to, 15]);
      for (const shape of [undefined, pulses]) {
        for (const lag of [0, 0.6]) {
          const scene = { seconds: 2, amps, lag, ...(shape ? { shape } : {}) };
          expectArcs(scene, [[from, to]]);
        }
      }
    }
  });
});

describe('what is an arc', () => {
  test('a light load of 5 A over an idle inverter’s 0.8 A', () => {
    const amps = (t: number) => (t > 1 && t < 2 ? 5 : 0.8);
    expectArcs({ seconds: 3, amps, shape: pulses, noise: 0.03 }, [[1, 2]]);
  });

  test('one at 0.1 s, one that burns when the record begins, one when it ends', () => {
    expectArcs({ seconds: 1, amps: during([0.1, 0.6, 20]) }, [[0.1, 0.6]]);
    expectArcs({ seconds: 1, amps: during([0, 0.6, 20]) }, [[0, 0.6]]);
    expectArcs({ seconds: 1, amps: during([0.5, 9, 20]) }, [[0.5, 1]]);
    expectArcs({ seconds: 1, amps: () => 20 }, [[0, 1]]);
  });

  test('one that burns when the record begins over an idle level of 3 A, then another', () => {
    const amps = (t: number) => (t < 0.8 || (t > 1.5 && t < 2) ? 25 : 3);
    expectArcs({ seconds: 3, amps, shape: pulses }, [
      [0, 0.8],
      [1.5, 2],
    ]);
  });

  test('three phases, and a split phase', () => {
    for (const pairs of [2, 3]) {
      expectArcs({ pairs, seconds: 3, amps: during([1, 2, 8]) }, [[1, 2]]);
    }
  });

  test('counts, when told how many a least rise is', () => {
    expectArcs({ scale: 187.3, seconds: 3, amps: during([1, 2, 8]) }, [[1, 2]]);
  });

  test('a hot start of twice the current', () => {
    const amps = (t: number) => (t < 1 || t > 2 ? 0.4 : t < 1.05 ? 40 : 20);
    expectArcs({ seconds: 3, amps }, [[1, 2]]);
  });
});

describe('what belongs together', () => {
  for (const perSecond of [20, 60, 140, 200]) {
    test(`short-circuit flutter of ${perSecond} a second is one arc`, () => {
      const amps = (t: number) => {
        if (t < 1 || t > 2.5) return 0.5;
        return (t * perSecond) % 1 < 0.3 ? 3 : 22;
      };
      expectArcs({ seconds: 3, amps }, [[1, 2.5]], 1);
    });
  }

  test('strike attempts and the arc that follows are one', () => {
    const amps = during([1, 1.03, 25], [1.08, 1.11, 25], [1.16, 1.2, 25], [1.25, 2, 20]);
    const { arcs } = find({ seconds: 3, amps });
    expect(arcs).toHaveLength(1);
    expect(arcs[0]!.start).toBeCloseTo(1, 1);
    expect(arcs[0]!.end).toBeCloseTo(2, 1);
  });

  test('tacks 0.2 s apart are each their own', () => {
    const tacks: [number, number][] = [0, 1, 2, 3, 4].map((n) => [1 + n * 0.5, 1.3 + n * 0.5]);
    const amps = during(...tacks.map(([from, to]): [number, number, number] => [from, to, 18]));
    expectArcs({ seconds: 4, amps, noise: 0.05 }, tacks);
  });

  test('noise of a tenth of the current neither splits nor ends an arc', () => {
    expectArcs({ seconds: 3, amps: during([1, 2.5, 10]), noise: 1 }, [[1, 2.5]], 0.6);
  });
});

describe('what is no arc', () => {
  const none: Record<string, Scene> = {
    'an idle inverter that draws pulses': { seconds: 3, amps: () => 1.6, shape: pulses },
    'an idle inverter in bursts': {
      seconds: 6,
      amps: (t) => (t % 0.4 < 0.03 ? 6 : 0.4),
      shape: pulses,
    },
    'a capacitor’s inrush at mains-on, then idle': {
      seconds: 3,
      amps: (t) => (t < 1 ? 0 : 0.9 + 45 * Math.exp(-(t - 1) / 0.025)),
    },
    'a transformer’s inrush, then a magnetising current of 6 A': {
      seconds: 4,
      amps: (t) => (t < 1 ? 0 : 6 + 90 * Math.exp(-(t - 1) / 0.04)),
      lag: 1.5,
    },
    'a corrected inverter switched on: its link charges, then its boost stage pulls': {
      seconds: 3,
      amps: (t) => {
        if (t < 1) return 0;
        if (t < 1.15) return 15 * Math.exp(-(t - 1) / 0.06);
        return 0.2 + 5.5 * Math.exp(-(((t - 1.15) / 0.06) ** 2));
      },
    },
    'a capacitor link charged through a resistor, then its relay': {
      seconds: 3,
      amps: (t) => {
        if (t < 1) return 0;
        if (t < 1.15) return 1.4 + 7.5 * Math.exp(-(t - 1) / 0.05);
        return 0.5 + 4 * Math.exp(-(t - 1.15) / 0.015);
      },
    },
    'a fan that starts': { seconds: 4, amps: (t) => (t < 1 ? 0.3 : t < 2 ? 1.4 : 0.3) },
    'a click of 20 ms': { seconds: 3, amps: during([1, 1.02, 30]) },
    'a click before the end': { seconds: 1.03, amps: during([1, 1.02, 30]) },
  };
  for (const [name, scene] of Object.entries(none)) {
    test(name, () => expectArcs(scene, []));
  }

  test('a core that saturates gives back what it took: its lopsided inrush is no arc', () => {
    // All of it in one polarity: half a cycle of it has power, a whole one has hardly any.
    const scene: Scene = {
      seconds: 3,
      amps: (t) => (t < 1 ? 0 : 6 + 120 * Math.exp(-(t - 1) / 0.12)),
      shape: (angle) => 2 * Math.max(0, Math.sin(angle - Math.PI / 2)) ** 3,
    };
    expectArcs(scene, []);
  });

  test('an arc that begins twice as hot as it goes on is one all the same', () => {
    const amps = (t: number) => (t < 1 || t > 3 ? 0.4 : t < 1.15 ? 40 : 18);
    expectArcs({ seconds: 4, amps }, [[1, 3]]);
  });

  test('an arc after each of them is still found', () => {
    for (const scene of Object.values(none)) {
      const at = scene.seconds + 1;
      const amps = (t: number) => (t > at && t < at + 1 ? 28 : scene.amps(t));
      const lag = scene.lag ?? 0;
      const { arcs } = find({ ...scene, seconds: at + 2, amps, lag: lag > 1 ? 0.4 : lag });
      const last = arcs.at(-1)!;
      expect(Math.abs(last.start - at)).toBeLessThan(0.02);
      expect(Math.abs(last.end - at - 1)).toBeLessThan(0.02);
    }
  });
});

test('is told within 150 ms of its beginning, and ended 150 ms after its end', () => {
  const rateHz = 10_240;
  const length = 3 * rateHz;
  const told: number[] = [];
  let pushed = 0;
  const tell = () => told.push(pushed / rateHz);
  const detector = new ArcDetector({ rateHz }, { began: tell, ended: tell });
  const meter = new Meter({ rateHz, pairs: 1, nominalHertz: 60 }, detector);
  const v = new Float64Array(64);
  const i = new Float64Array(64);
  for (; pushed < length; pushed += 64) {
    for (let k = 0; k < 64; k++) {
      const t = (pushed + k) / rateHz;
      v[k] = 170 * Math.sin(2 * Math.PI * 60 * t);
      i[k] = t > 1 && t < 2 ? 20 * Math.sin(2 * Math.PI * 60 * t) : 0;
    }
    meter.push([v, i], 64);
  }
  expect(told[0]).toBeLessThan(1.15);
  expect(told[1]).toBeLessThan(2.15);
});

describe('gaps', () => {
  function withGap(gapSeconds: number, afterAmps: number) {
    const rateHz = 10_240;
    const events: [string, number][] = [];
    const detector = new ArcDetector(
      { rateHz },
      {
        began: (start) => events.push(['began', start / rateHz]),
        ended: (_, end) => events.push(['ended', end / rateHz]),
      },
    );
    const meter = new Meter({ rateHz, pairs: 1, nominalHertz: 60 }, detector);
    const run = (from: number, to: number, amps: (t: number) => number) => {
      const length = Math.round((to - from) * rateHz);
      const angle = (k: number) => 2 * Math.PI * 60 * (from + k / rateHz);
      const v = Float64Array.from({ length }, (_, k) => 170 * Math.sin(angle(k)));
      const i = Float64Array.from(
        { length },
        (_, k) => Math.SQRT2 * amps(from + k / rateHz) * Math.sin(angle(k)),
      );
      meter.push([v, i], length);
    };
    run(0, 2, (t) => (t > 1 ? 20 : 0));
    const skipped = Math.round(gapSeconds * rateHz);
    meter.skip(skipped);
    detector.skip(skipped);
    run(2 + gapSeconds, 4 + gapSeconds, (t) => (t < 3 + gapSeconds ? afterAmps : 0));
    meter.end();
    detector.end();
    return events;
  }

  test('a short one in an arc is bridged', () => {
    const events = withGap(0.25, 20);
    expect(events.map(([name]) => name)).toEqual(['began', 'ended']);
    expect(events[1]![1]).toBeCloseTo(3.25, 1);
  });

  test('an arc that is off after a gap ended where the gap began', () => {
    const events = withGap(0.25, 0);
    expect(events.map(([name]) => name)).toEqual(['began', 'ended']);
    expect(events[1]![1]).toBeCloseTo(2, 1);
  });

  test('a long one ends the arc, and what burns after it is another', () => {
    const events = withGap(5, 20);
    expect(events.map(([name]) => name)).toEqual(['began', 'ended', 'began', 'ended']);
    expect(events[1]![1]).toBeCloseTo(2, 1);
    expect(events[2]![1]).toBeCloseTo(7, 1);
    expect(events[3]![1]).toBeCloseTo(8, 1);
  });
});
