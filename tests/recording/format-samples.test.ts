import { existsSync, readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import { splitCff } from '../../shared/recording/comtrade-cff.ts';
import { type ComtradeConfig, parseConfig } from '../../shared/recording/comtrade-cfg.ts';
import { pickOf } from '../../shared/recording/comtrade-channels.ts';
import { configText, openRows } from '../../shared/recording/comtrade-reader.ts';
import { ArraySource, type ByteSource } from '../../shared/recording/source.ts';
import { readAll } from './helpers.ts';

const folder = new URL('../../../shared/data/comtrade/', import.meta.url);
const there = existsSync(folder);
const file = (name: string) => new ArraySource(readFileSync(new URL(name, folder)));

/** Every analog channel in the file's own unit, paired or not. */
function channelsOf(config: ComtradeConfig, samples: ByteSource) {
  const asRecorded: ComtradeConfig = {
    ...config,
    analogs: config.analogs.map((analog) => ({ ...analog, unit: 'as recorded' })),
  };
  const picks = asRecorded.analogs.map((_, column) => pickOf(asRecorded, column));
  const rows = openRows('sample', samples, asRecorded, picks);
  const columns: number[][] = picks.map(() => []);
  for (let block = rows.next(); block; block = rows.next())
    for (const [index, column] of columns.entries())
      column.push(...block.channels[index]!.subarray(0, block.frames));
  return { columns, missing: rows.missing, rateHz: rows.rateHz };
}

const halves = (cfg: string, dat: string) =>
  channelsOf(parseConfig(cfg, configText(cfg, file(cfg))), file(dat));
const whole = (cff: string) => {
  const { config, samples } = splitCff(cff, file(cff));
  return channelsOf(parseConfig(cff, config), samples);
};

const rms = (column: number[]) =>
  Math.sqrt(column.reduce((sum, value) => sum + value * value, 0) / column.length);
const meanProduct = (one: number[], other: number[]) =>
  one.reduce((sum, value, row) => sum + value * other[row]!, 0) / one.length;

/** The expected figures were computed apart from this project; see the data's own README. */
describe.skipIf(!there)(`recordings of others (skipped without ${folder.pathname})`, () => {
  test('feeder at 60 Hz: rms, power and extremes', () => {
    const { reader, close } = openRecordingFile(
      new URL('feeder-60hz/feeder-60hz.cfg', folder).pathname,
    );
    expect(reader.facts).toMatchObject({
      rateHz: 30_707.244140625,
      frames: 2048,
      nominalHertz: 60,
    });
    expect(reader.facts.startedAt).toBe(Date.UTC(2015, 10, 18, 5, 33, 3) * 1000 + 765_333);
    const { columns } = readAll(reader);
    close();
    const wanted = [348.951, 126.1079, 352.2239, 151.8316, 345.9534, 166.6957];
    for (const [index, value] of wanted.entries())
      expect(rms(columns[index]!)).toBeCloseTo(value, 3);
    const watts = [40_500.22, 49_502.44, 53_633.93];
    for (const [pair, value] of watts.entries())
      expect(meanProduct(columns[2 * pair]!, columns[2 * pair + 1]!)).toBeCloseTo(value, 1);
    expect(Math.max(...columns[4]!)).toBeCloseTo(581.121, 3);
    expect(Math.min(...columns[3]!)).toBeCloseTo(-318.287, 3);
  });

  test('ASCII, from two files and from one', () => {
    for (const sample of [
      halves('format-samples/sample_ascii.cfg', 'format-samples/sample_ascii.dat'),
      whole('format-samples/sample_ascii.cff'),
    ]) {
      expect(sample.rateHz).toBe(1200);
      expect(sample.columns[0]).toHaveLength(40);
      expect(sample.columns[0]![0]).toBeCloseTo(-9.396057, 6);
    }
  });

  test('ASCII with missing samples', () => {
    const sample = halves(
      'format-samples/sample_ascii.cfg',
      'format-samples/sample_ascii_missing.dat',
    );
    expect(sample.missing).toBeGreaterThan(0);
    const missing = sample.columns.flat().filter(Number.isNaN);
    expect(missing).toHaveLength(sample.missing);
  });

  test('BINARY', () => {
    const { columns } = halves('format-samples/sample_bin.cfg', 'format-samples/sample_bin.dat');
    const counts = [-24_979, -24_571, -24_053, -23_425, -22_790];
    expect(columns[0]).toEqual(counts.map((count) => count * 0.000361849));
    expect(columns[0]![3]).toBeCloseTo(-8.47631, 5);
  });

  test('FLOAT32 from one file', () => {
    const { columns, rateHz } = whole('format-samples/sample_float32.cff');
    expect(rateHz).toBe(100);
    expect(columns[0]).toHaveLength(301);
    for (const [row, value] of [
      [0, 2.809693],
      [1, 2.809693],
      [5, 3.111505],
      [300, 44.931446],
    ] as const)
      expect(columns[0]![row]).toBeCloseTo(value, 6);
  });
});
