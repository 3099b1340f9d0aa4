import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { ArcFigures, type ArcMeasured } from '../../shared/metrology/arc-figures.ts';
import { Meter } from '../../shared/metrology/meter.ts';

const folder = new URL('../../../shared/data/comtrade/feeder-60hz/', import.meta.url);
const here = existsSync(folder);

/** Just enough of an ASCII COMTRADE 1999 reader; the project's own is tested elsewhere. */
function read(): { rateHz: number; channel: (name: string) => Float64Array } {
  const cfg = readFileSync(new URL('feeder-60hz.cfg', folder), 'latin1').split(/\r?\n/);
  const analogs = cfg.slice(2, 10).map((line) => line.split(','));
  const rateHz = Number(cfg[12]!.split(',')[0]);
  const rows = readFileSync(new URL('feeder-60hz.dat', folder), 'latin1')
    .split(/\r?\n/)
    .filter((line) => /^\d/.test(line))
    .map((line) => line.split(',').map(Number));
  const channel = (name: string) => {
    const n = analogs.findIndex((fields) => fields[1] === name);
    const [a, b] = [Number(analogs[n]![5]), Number(analogs[n]![6])];
    return Float64Array.from(rows, (row) => a * row[2 + n]! + b);
  };
  return { rateHz, channel };
}

/** From plain sums over all 2 048 samples: README.md beside the record. */
const truths = [
  { u: 'U1', i: 'I1', volts: 348.951, amps: 126.1079, watts: 40_500.22, factor: 0.92034 },
  { u: 'U2', i: 'I2', volts: 352.2239, amps: 151.8316, watts: 49_502.44, factor: 0.92565 },
  { u: 'U3', i: 'I3', volts: 345.9534, amps: 166.6957, watts: 53_633.93, factor: 0.93003 },
];

/** Figures of the one arc that the whole record is: nothing before it shows an idle machine. */
function measure(v: Float64Array, a: Float64Array, rateHz: number): ArcMeasured[] {
  const arcs: ArcMeasured[] = [];
  const figures = new ArcFigures({ rateHz, pairs: 1 });
  const detector = new ArcDetector(
    { rateHz },
    {
      began: (start) => figures.began(start),
      ended: (start, end) => arcs.push(figures.ended(start, end)),
    },
  );
  const meter = new Meter(
    { rateHz, pairs: 1, nominalHertz: null },
    {
      halfCycle(row) {
        figures.halfCycle(row);
        detector.halfCycle(row);
      },
      edge(row) {
        figures.edge(row);
        detector.edge(row);
      },
    },
  );
  meter.push([v, a], v.length);
  meter.end();
  detector.end(v.length);
  expect(Math.abs(meter.hertz - 59.97)).toBeLessThan(0.05);
  return arcs;
}

describe.skipIf(!here)(
  'a real feeder (skipped where shared/data is not beside the project)',
  () => {
    const { rateHz, channel } = here ? read() : { rateHz: 0, channel: () => new Float64Array(0) };

    for (const { u, i, volts, amps, watts, factor } of truths) {
      test(`${u}, ${i}: volts, amps, watts and power factor within 0.01 %`, () => {
        const arcs = measure(channel(u), channel(i), rateHz);
        expect(arcs).toHaveLength(1);
        expect(arcs[0]).toMatchObject({ start: 0, end: 2048, lostFraction: 0 });
        const pair = arcs[0]!.pairs[0]!;
        expect(Math.abs(pair.meanVolts / volts - 1)).toBeLessThan(1e-4);
        expect(Math.abs(pair.meanAmps / amps - 1)).toBeLessThan(1e-4);
        expect(Math.abs(pair.meanWatts / watts - 1)).toBeLessThan(1e-4);
        expect(Math.abs(pair.powerFactor! / factor - 1)).toBeLessThan(1e-4);
      });
    }
  },
);
