import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { DataKind } from '../../shared/recording/comtrade-cfg.ts';
import { ComtradeWriter } from '../../shared/recording/comtrade-writer.ts';
import { CsvWriter } from '../../shared/recording/csv-writer.ts';
import type { ChannelFacts } from '../../shared/recording/reader.ts';
import type { RecordingWriter, WriterSetup } from '../../shared/recording/writer.ts';
import { MemorySink, openBytes, readAll } from './helpers.ts';

const channelsOf = (pairs: number, scale: number | null, bits: 0 | 16 | 32): ChannelFacts[] =>
  Array.from({ length: 2 * pairs }, (_, k) => ({
    name: `${k % 2 === 0 ? 'v' : 'i'}${(k >> 1) + 1}`,
    unit: k % 2 === 0 ? 'V' : 'A',
    scale: scale === null ? null : scale * (k + 1),
    offset: scale === null ? 0 : k / 8,
    bits,
  }));

const setupOf = (channels: ChannelFacts[], rateHz: number): WriterSetup => ({
  channels,
  rateHz,
  hertz: 60,
  startedAt: 1_795_000_000_123_456,
});

/** Writes stretches of rows with gaps between them, then reads the file back. */
function backFrom(
  setup: WriterSetup,
  kind: DataKind | 'CSV',
  single: boolean,
  stretches: readonly { gap: number; columns: Float64Array[] }[],
) {
  const main = new MemorySink();
  const dat = new MemorySink();
  const comtrade = { ...setup, kind: kind as DataKind, station: 'Bay, 2', device: 'outlet' };
  const writer: RecordingWriter =
    kind === 'CSV'
      ? new CsvWriter(setup, main)
      : new ComtradeWriter(comtrade, single ? { single: main } : { config: main, samples: dat });
  for (const { gap, columns } of stretches) {
    writer.skip(gap);
    writer.writeValues(columns, columns[0]!.length);
  }
  writer.close();
  const ending = kind === 'CSV' ? 'csv' : single ? 'cff' : 'cfg';
  return openBytes(`a.${ending}`, main.bytes, { dat: dat.bytes });
}

const stretch = (channels: ChannelFacts[], most: number, first: boolean) =>
  fc
    .tuple(
      fc.integer({ min: first ? 0 : 1, max: first ? 0 : 50 }),
      fc.array(fc.array(fc.integer({ min: -most, max: most }), { minLength: 6, maxLength: 6 }), {
        minLength: 2,
        maxLength: 40,
      }),
    )
    .map(([gap, rows]) => ({
      gap,
      columns: channels.map(({ scale, offset }, k) =>
        Float64Array.from(rows, (row) => (scale === null ? row[k]! / 7 : row[k]! * scale + offset)),
      ),
    }));

const cases: [DataKind | 'CSV', boolean, number | null, 0 | 16 | 32, string][] = [
  ['CSV', false, null, 0, 'CSV'],
  ['ASCII', false, 0.01, 16, 'COMTRADE 1999 ASCII'],
  ['ASCII', false, 0.01, 32, 'COMTRADE 2013 ASCII'],
  ['ASCII', true, null, 0, 'COMTRADE 2013 ASCII'],
  ['BINARY', false, 0.0037, 16, 'COMTRADE 1999 BINARY'],
  ['BINARY', true, 0.0037, 16, 'COMTRADE 2013 BINARY'],
  ['BINARY32', false, 1e-7, 32, 'COMTRADE 2013 BINARY32'],
  ['BINARY32', true, 1e-7, 32, 'COMTRADE 2013 BINARY32'],
  ['FLOAT32', false, 0.5, 16, 'COMTRADE 2013 FLOAT32'],
  ['FLOAT32', true, 0.5, 16, 'COMTRADE 2013 FLOAT32'],
];

describe('what is written is read back, bit for bit', () => {
  test.each(cases)('%s, single file %s, scale %s, %i bits', (kind, single, scale, bits, format) => {
    const most = bits === 32 ? 0x7fff_ffff : bits === 16 ? 0x7fff : 1e9;
    const given = fc.tuple(
      fc.integer({ min: 1, max: 3 }),
      fc.constantFrom(1000, 10_240, 30_707.25),
    );
    const recording = given.chain(([pairs, rateHz]) => {
      const channels = channelsOf(pairs, scale, bits);
      const first = stretch(channels, most, true);
      const later = fc.array(stretch(channels, most, false), { maxLength: 3 });
      return fc.record({
        rateHz: fc.constant(rateHz),
        channels: fc.constant(channels),
        first,
        later,
      });
    });
    fc.assert(
      fc.property(recording, ({ rateHz, channels, first, later }) => {
        const stretches = [first, ...later];
        const reader = backFrom(setupOf(channels, rateHz), kind, single, stretches);
        const { facts } = reader;
        expect([facts.format, facts.rateHz, facts.nominalHertz, facts.startedAt]).toEqual([
          format,
          rateHz,
          60,
          1_795_000_000_123_456,
        ]);
        expect(facts.channels.map(({ name, unit }) => [name, unit])).toEqual(
          channels.map(({ name, unit }) => [name, unit]),
        );
        const { columns, gaps } = readAll(reader);
        for (const [k, column] of columns.entries())
          expect(column).toEqual(
            stretches.flatMap((each) => [...each.columns[k]!]).map(noMinusZero),
          );
        const starts = stretches.map((_, k) =>
          stretches.slice(0, k).reduce((sum, each) => sum + each.columns[0]!.length, 0),
        );
        expect(gaps).toEqual(later.map(({ gap }, k) => [starts[k + 1], gap]));
      }),
      { numRuns: 40 },
    );
  });

  test('counts go straight through', () => {
    const main = new MemorySink();
    const dat = new MemorySink();
    const setup = setupOf(channelsOf(1, 0.5, 16), 10_240);
    const head = { ...setup, kind: 'BINARY' as const, station: 's', device: 'd' };
    const writer = new ComtradeWriter(head, { config: main, samples: dat });
    const counts = Int32Array.from({ length: 60_000 }, (_, k) => ((k * 7919) % 65_535) - 32_767);
    writer.writeCounts(counts.subarray(0, 40_000), 20_000);
    writer.writeCounts(counts.subarray(40_000), 10_000);
    writer.close();
    const { columns } = readAll(openBytes('a.cfg', main.bytes, { dat: dat.bytes }));
    expect(columns[0]).toEqual([...counts].filter((_, k) => k % 2 === 0).map((x) => x * 0.5));
    expect(columns[1]).toEqual([...counts].filter((_, k) => k % 2 === 1).map((x) => x + 1 / 8));
    expect(writer.clipped).toBe(0);
  });

  test('a value beyond the counts is written as the largest and counted', () => {
    const main = new MemorySink();
    const setup = { ...setupOf(channelsOf(1, 1, 16), 1000), station: 's', device: 'd' };
    const writer = new ComtradeWriter({ ...setup, kind: 'BINARY' }, { single: main });
    writer.writeValues([Float64Array.of(40_000, -1), Float64Array.of(1, -1e6)], 2);
    writer.close();
    expect(writer.clipped).toBe(2);
    expect(readAll(openBytes('a.cff', main.bytes)).columns[0]).toEqual([32_767, -1]);
  });

  test('a writer that was never closed leaves what it wrote', () => {
    const main = new MemorySink();
    const setup = { ...setupOf(channelsOf(1, 1, 16), 1000), station: 's', device: 'd' };
    const writer = new ComtradeWriter({ ...setup, kind: 'BINARY' }, { single: main });
    writer.writeCounts(new Int32Array(60_000), 30_000);
    const { columns } = readAll(openBytes('a.cff', main.bytes));
    expect(columns[0]!.length).toBeGreaterThan(20_000);
  });
});

/** Decimal text knows one zero. */
function noMinusZero(value: number): number {
  return value === 0 ? 0 : value;
}
