import { describe, expect, test } from 'vitest';
import { CycleRing } from '../../shared/metrology/cycle-ring.ts';
import { GeneratorWatch } from '../../shared/metrology/generator-watch.ts';
import { LoadPoints } from '../../shared/metrology/load-points.ts';
import { blankRow } from '../../shared/metrology/row.ts';

const rateHz = 10_240;
interface Moment {
  hertz: number;
  volts: number;
  amps: number;
}

/** Cycles of the given frequency, volts and amperes; arcs told 0.1 s late, as a detector does. */
function play(seconds: number, arcs: readonly [number, number][], at: (s: number) => Moment) {
  const ring = new CycleRing();
  const watch = new GeneratorWatch([ring], rateHz);
  const points = new LoadPoints(ring, rateHz);
  const row = blankRow(1);
  row.locked = true;
  const late = 0.1;
  const events = arcs.flatMap(([from, to]) => [
    { s: from, tell: () => [watch, points].map((each) => each.arcBegan(from * rateHz)) },
    { s: to, tell: () => [watch, points].map((each) => each.arcEnded(to * rateHz)) },
  ]);
  for (let end = 0; end < seconds * rateHz; ) {
    const { hertz, volts, amps } = at(end / rateHz);
    row.start = end;
    row.middle = end + rateHz / hertz / 2;
    row.end = end + rateHz / hertz;
    row.hertz = hertz;
    row.urms[0] = row.u1re[0] = volts;
    row.irms[0] = row.i1re[0] = amps;
    end = row.end;
    if (ring.push(row, 0)) {
      watch.cycle();
      points.cycle();
    }
    while (events.length > 0 && events[0]!.s + late < end / rateHz) events.shift()!.tell();
  }
  return { figures: watch.figures(), lowest: points.lowest(Number.NEGATIVE_INFINITY) };
}

const arcs: [number, number][] = [
  [2, 4],
  [6, 8],
];
const burns = (s: number) => arcs.find(([from, to]) => s >= from && s < to);

describe('an engine set is told by its frequency', () => {
  test('droop: 60.5 Hz falls to 59.7 while an arc burns', () => {
    const { figures } = play(10, arcs, (s) => {
      const arc = burns(s);
      const sunk = arc ? 1 - Math.exp(-(s - arc[0]) / 0.4) : 0;
      const dip = arc ? 40 * Math.exp(-(s - arc[0]) / 0.3) : 0;
      return { hertz: 60.5 - 0.8 * sunk, volts: (arc ? 230 : 240) - dip, amps: arc ? 25 : 0.5 };
    });
    expect(figures!.hertzIdle).toBeCloseTo(60.5, 2);
    expect(figures!.hertzLow).toBeCloseTo(59.7, 1);
    expect(figures!.hertzHigh).toBeCloseTo(60.5, 1);
    // 240 to 190 V.
    expect(figures!.dip).toBeGreaterThan(0.15);
    expect(figures!.dip).toBeLessThan(50 / 240);
    expect(figures!.settled![0]!.volts).toBeCloseTo(230, 0);
    expect(figures!.settled![0]!.amps).toBeCloseTo(25, 1);
  });

  test('an isochronous governor that lags: the frequency comes back, and was away', () => {
    const { figures } = play(10, arcs, (s) => {
      const arc = burns(s);
      const since = arc ? s - arc[0] : 9;
      const hertz = 60 - 1.2 * (since / 0.4) * Math.exp(1 - since / 0.4);
      return { hertz, volts: 235, amps: arc ? 25 : 0.5 };
    });
    expect(figures!.hertzLow).toBeLessThan(59.2);
  });

  test.each([
    ['a steady grid', () => 60.02],
    ['a grid that wanders by a tenth in ten seconds', (s: number) => 60 + 0.05 * Math.sin(s / 1.6)],
    ['a step of 0.15 Hz with every arc', (s: number) => (burns(s) ? 59.85 : 60)],
  ])('%s is none', (_name, hertz) => {
    const { figures } = play(10, arcs, (s) => ({
      ...{ hertz: hertz(s), volts: 235, amps: burns(s) ? 25 : 0.5 },
    }));
    expect(figures).toBeNull();
  });
});

describe('the lowest volts at each current', () => {
  const at = (volts: (s: number) => number) =>
    play(10, arcs, (s) => {
      const arc = burns(s);
      const second = arc && arc[0] > 5;
      return { hertz: 60, volts: arc ? volts(s) : 240, amps: arc ? (second ? 30 : 15) : 0.5 };
    }).lowest;

  test('one entry a current, true r.m.s. as it was read', () => {
    const lowest = at((s) => (s < 5 ? 236 : 231));
    expect(lowest).toHaveLength(2);
    expect(lowest[0]!.volts).toBeCloseTo(236, 6);
    expect(lowest[0]!.amps).toBeCloseTo(15, 6);
    expect(lowest[1]!.volts).toBeCloseTo(231, 6);
  });

  test('a dip of a tenth of a second is no load point, half a second is', () => {
    const dips = (from: number, to: number) => (s: number) => (s > from && s < to ? 200 : 231);
    expect(Math.min(...at(dips(6.8, 6.9)).map(({ volts }) => volts))).toBeCloseTo(231, 3);
    expect(Math.min(...at(dips(6.8, 7.6)).map(({ volts }) => volts))).toBeCloseTo(200, 3);
  });

  test('the end of an arc counts too: a contact is hottest then', () => {
    const sinks = at((s) => (s > 7.7 ? 220 : 231));
    expect(Math.min(...sinks.map(({ volts }) => volts))).toBeCloseTo(220, 3);
  });
});
