import { describe, expect, test } from 'vitest';
import { encodeText } from '../../shared/recording/text.ts';
import { openBytes, readAll, refusal } from './helpers.ts';

/** A small .cfg as each edition would have it; parts of it are replaced by the tests. */
const config = {
  station: 'Bay 2,outlet 3,1999',
  counts: '2,2A,0D',
  volts: '1,line,A,,V,0.5,10,0,-32767,32767,1,1,P',
  amps: '2,gun,A,,A,0.01,0,0,-32767,32767,1,1,P',
  status: '',
  hertz: '60',
  rates: '1\r\n1000,4',
  first: '25/11/2026,06:59:08.123456',
  trigger: '25/11/2026,06:59:08.200000',
  kind: 'ASCII',
  tail: '1',
};
const cfg = (change: Partial<typeof config> = {}, newline = '\r\n') =>
  Object.values({ ...config, ...change })
    .filter((line) => line !== '')
    .join('\r\n')
    .replaceAll('\r\n', newline) + newline;
const dat = '1,0,100,-50\r\n2,1000,-20,300\r\n3,2000,0,0\r\n4,3000,7,-7\r\n';
const volts = [60, 0, 10, 13.5];
const amps = [-0.5, 3, 0, -0.07];
const open = (change: Partial<typeof config> = {}, samples: string | Uint8Array = dat) =>
  openBytes('bay.cfg', cfg(change), { dat: samples });
const columnsOf = (...args: Parameters<typeof open>) => readAll(open(...args)).columns;

/** Rows of a .dat in binary: number, stamp, samples put by `put`, status words. */
function binary(
  rows: readonly (readonly number[])[],
  put: 'setInt16' | 'setInt32' | 'setFloat32',
  statusWords = 0,
): Uint8Array {
  const size = put === 'setInt16' ? 2 : 4;
  const rowBytes = 8 + (rows[0]!.length - 2) * size + 2 * statusWords;
  const view = new DataView(new ArrayBuffer(rows.length * rowBytes));
  for (const [index, [number = 0, stamp = 0, ...samples]] of rows.entries()) {
    view.setUint32(index * rowBytes, number, true);
    view.setUint32(index * rowBytes + 4, stamp, true);
    for (const [place, sample] of samples.entries())
      view[put](index * rowBytes + 8 + place * size, sample, true);
  }
  return new Uint8Array(view.buffer);
}
const rows = [
  [1, 0, 100, -50],
  [2, 1000, -20, 300],
  [3, 2000, 0, 0],
  [4, 3000, 7, -7],
] as const;

describe('COMTRADE is read', () => {
  test('with its facts: value = a·x + b, in volts and amperes', () => {
    const reader = open();
    expect(reader.facts).toEqual({
      format: 'COMTRADE 1999 ASCII',
      rateHz: 1000,
      pairs: 1,
      startedAt: Date.UTC(2026, 10, 25, 6, 59, 8) * 1000 + 123_456,
      frames: 4,
      channels: [
        { name: 'line', unit: 'V', scale: 0.5, offset: 10, bits: 16 },
        { name: 'gun', unit: 'A', scale: 0.01, offset: 0, bits: 16 },
      ],
      nominalHertz: 60,
      leftOut: [],
    });
    expect(readAll(reader)).toEqual({ columns: [volts, amps], gaps: [] });
    expect(reader.progress).toBe(1);
  });

  test.each([
    ['BINARY', 'setInt16', 0],
    ['binary', 'setInt16', 2],
    ['BINARY32', 'setInt32', 0],
    ['BINARY32', 'setInt32', 1],
    ['FLOAT32', 'setFloat32', 0],
    ['float32', 'setFloat32', 1],
  ] as const)('%s by %s with %i status words', (kind, put, words) => {
    const count = words === 0 ? 0 : words * 16 - 3;
    const status = Array.from({ length: count }, (_, k) => `${k + 1},s,,,0`).join('\r\n');
    const change = { kind, status, counts: `${2 + count},2A,${count}D` };
    expect(columnsOf(change, binary(rows, put, words))).toEqual([volts, amps]);
  });

  test('from its .dat as from its .cfg', () => {
    expect(readAll(openBytes('BAY.DAT', dat, { cfg: cfg() })).columns).toEqual([volts, amps]);
  });

  test('1991: no year, month first, ten fields a channel', () => {
    const reader = open({
      station: 'Bay 2,outlet 3',
      volts: '1,line,A,,V,0.5,10,0,-2047,2047',
      amps: '2,gun,A,,A,0.01,0,0,-2047,2047',
      first: '11/25/96,06:59:08.123456',
      tail: '',
    });
    expect(reader.facts.format).toBe('COMTRADE 1991 ASCII');
    expect(reader.facts.startedAt).toBe(Date.UTC(1996, 10, 25, 6, 59, 8) * 1000 + 123_456);
    expect(readAll(reader).columns).toEqual([volts, amps]);
  });

  test('2013: nanoseconds, local time, clock quality', () => {
    const reader = open({
      station: 'Bay 2,outlet 3,2013',
      first: '25/11/2026,06:59:08.123456789',
      tail: '1\r\n-5h30,-5h30\r\nB,3',
    });
    expect(reader.facts.format).toBe('COMTRADE 2013 ASCII');
    expect(reader.facts.startedAt).toBe(Date.UTC(2026, 10, 25, 12, 29, 8) * 1000 + 123_456);
  });

  test('as one .cff, with and without the length of its samples', () => {
    const head = `--- file type: CFG ---\r\n${cfg()}--- file type: INF ---\r\n\r\n`;
    const ascii = `${head}--- file type: HDR ---\r\nhi\r\n--- file type: DAT ASCII ---\r\n${dat}`;
    expect(readAll(openBytes('bay.cff', ascii)).columns).toEqual([volts, amps]);
    const samples = binary(rows, 'setInt16');
    for (const length of ['', ': 48', ': 0']) {
      const text = `${head.replace('ASCII', 'BINARY')}--- file type: DAT BINARY${length} ---\r\n`;
      const bytes = Uint8Array.of(...encodeText(text), ...samples);
      expect(readAll(openBytes('bay.cff', bytes)).columns).toEqual([volts, amps]);
    }
  });

  test('kilovolts, milliamperes and secondary values as primary volts and amperes', () => {
    const reader = open({
      volts: '1,line,A,,kV,0.5,10,0,-32767,32767,1,1,P',
      amps: '2,gun,A,, mA ,0.01,0,0,-32767,32767,100,5,s',
    });
    const [kilovolts, milliamps] = readAll(reader).columns;
    expect(kilovolts![0]).toBeCloseTo(60_000, 6);
    expect(milliamps![1]).toBeCloseTo(0.003 * 20, 12);
  });

  test.each(['volt', 'Volts', 'V', 'v'])('a voltage in "%s"', (unit) => {
    const reader = open({ volts: `1,line,A,,${unit},0.5,10,0,-32767,32767,1,1,P` });
    expect(readAll(reader).columns[0]).toEqual(volts);
  });

  test.each(['ampere', 'Amperes', 'amp', 'A', 'Amps'])('a current in "%s"', (unit) => {
    const reader = open({ amps: `2,gun,A,,${unit},0.01,0,0,-32767,32767,1,1,P` });
    expect(readAll(reader).columns[1]).toEqual(amps);
  });

  test('pairs in order, the third the last, other units passed over', () => {
    const units = ['A', 'degC', 'V', 'A', 'A', 'V', 'V', 'A', 'V'];
    const lines = units.map((unit, k) => `${k + 1},${unit}${k},,,${unit},1,0,0,-9,9,1,1,P`);
    const reader = open(
      { counts: '9,9A,0D', volts: lines.join('\r\n'), amps: '', rates: '1\r\n1000,1' },
      '1,0,0,1,2,3,4,5,6,7,8\r\n',
    );
    expect(reader.facts.channels.map((each) => each.name)).toEqual([
      'V2',
      'A0',
      'V5',
      'A3',
      'V6',
      'A4',
    ]);
    expect(reader.facts.leftOut).toEqual(['degC1', 'A7', 'V8']);
    expect(readAll(reader).columns.flat()).toEqual([2, 0, 5, 3, 6, 4]);
  });
});

describe('liberties that real files take are borne', () => {
  test.each([
    ['a trailing 0x1A', {}, `${dat}\u001a`],
    ['doubled newlines', {}, dat.replaceAll('\r\n', '\r\n\r\n')],
    ['a carriage return too many', {}, dat.replaceAll('\r\n', '\r\r\n')],
    ['bare newlines', {}, dat.replaceAll('\r\n', '\n')],
    ['no newline at the end', {}, dat.trimEnd()],
    ['rows beyond the last one', {}, `${dat}5,4000,9,9\r\n6,5000,9,9\r\n`],
    ['spaces in the cells', {}, dat.replaceAll(',', ' , ')],
    ['empty timestamps', {}, dat.replaceAll(/^(\d+),\d+/gm, '$1,')],
    ['en dashes for minus', {}, dat.replaceAll('-', '\u2013')],
    ['status cells missing', { counts: '5,2A,3D', status: '1,a,,,0\r\n2,b\r\n3' }, dat],
    ['a year in between', { station: 'Bay 2,outlet 3,2001' }, dat],
    ['no line frequency', { hertz: '' }, dat],
    ['empty times', { first: ',', trigger: ',' }, dat],
    ['no times', { first: '', trigger: '' }, dat],
    ['lower case file type', { kind: ' ascii ' }, dat],
    ['counts with spaces and small letters', { counts: ' 2 , 2a , 0d' }, dat],
    ['an empty skew', { volts: '1,line,A,,V,0.5,10,,-32767,32767,1,1,P' }, dat],
    ['en dash in the .cfg', { volts: '1,line,A,,V,0.5,10,0,\u201332767,32767,1,1,P' }, dat],
    ['row numbers that stand still', {}, dat.replaceAll(/^\d+/gm, '1')],
    ['row numbers from 0', {}, dat.replaceAll(/^\d+/gm, (n) => String(Number(n) - 1))],
    ['several rates that are one', { rates: '2\r\n1000,2\r\n1000,4' }, dat],
    ['an unfinished head', { rates: '1\r\n1000,0000000000' }, dat],
  ])('%s', (_, change, samples) => {
    expect(readAll(open(change, samples))).toEqual({ columns: [volts, amps], gaps: [] });
  });

  test('a .cfg of doubled newlines and one of ISO 8859-1', () => {
    expect(readAll(openBytes('a.cfg', cfg({}, '\r\n\r\n'), { dat })).columns).toEqual([
      volts,
      amps,
    ]);
    const latin = Uint8Array.from(cfg({ station: 'Größe,Prüf,1999' }), (c) => c.charCodeAt(0));
    expect(readAll(openBytes('a.cfg', latin, { dat })).columns).toEqual([volts, amps]);
    expect(columnsOf({ station: 'Бокс 2,розетка,1999' })).toEqual([volts, amps]);
  });

  test('binary rows with a 0x1A behind them', () => {
    const bytes = Uint8Array.of(...binary(rows, 'setInt16'), 0x1a);
    expect(columnsOf({ kind: 'BINARY' }, bytes)).toEqual([volts, amps]);
  });
});

describe('a row with a missing sample is lost, never a value', () => {
  const left = [volts, amps].map((column) => column.toSpliced(1, 1));
  const hole = (code: number) => rows.map((row, k) => (k === 1 ? [...row.slice(0, 3), code] : row));
  test.each([
    ['an empty cell', {}, dat.replace('300', '')],
    ['99999', {}, dat.replace('300', '99999')],
    ['0x8000', { kind: 'BINARY' }, binary(hole(-0x8000), 'setInt16')],
    ['0x80000000', { kind: 'BINARY32' }, binary(hole(-0x80000000), 'setInt32')],
    ['the lowest float', { kind: 'FLOAT32' }, binary(hole(-3.4028234663852886e38), 'setFloat32')],
    ['not a number', { kind: 'FLOAT32' }, binary(hole(Number.NaN), 'setFloat32')],
  ])('%s', (_, change, samples) => {
    const reader = open(change, samples);
    expect(readAll(reader)).toEqual({ columns: left, gaps: [[1, 1]] });
    expect(reader.missing).toBe(1);
  });

  test('the first rows, the last ones, and rows beside a gap of the row numbers', () => {
    const text = ['1,0,,1', '2,0,3,4', '5,0,,6', '6,0,,', '7,0,7,8', '8,0,9,'].join('\n');
    const reader = open({ rates: '1\r\n1000,8' }, text);
    expect(readAll(reader)).toEqual({
      columns: [
        [11.5, 13.5],
        [0.04, 0.08],
      ],
      gaps: [
        [0, 1],
        [1, 4],
      ],
    });
    expect(reader.missing).toBe(5);
  });

  test('99999 is a sample where the range of a 2013 channel reaches it', () => {
    const change = {
      station: 'b,o,2013',
      amps: '2,gun,A,,A,0.01,0,0,-200000,200000,1,1,P',
    };
    const reader = open(change, dat.replace('300', '99999'));
    expect(readAll(reader).columns[1]![1]).toBeCloseTo(999.99, 9);
    expect(reader.missing).toBe(0);
  });
});

describe('lost rows and binding timestamps', () => {
  const gapped = [
    [1, 0, 1, 1],
    [2, 1000, 2, 2],
    [6, 5000, 3, 3],
    [7, 6000, 4, 4],
  ] as const;
  const ascii = gapped.map((row) => row.join(',')).join('\n');

  test.each([
    ['ASCII', ascii],
    ['BINARY', binary(gapped, 'setInt16')],
  ])('row numbers tell a gap in %s when they span what was promised', (kind, samples) => {
    const reader = open({ kind, rates: '1\r\n1000,7' }, samples);
    expect(reader.facts.frames).toBe(7);
    expect(readAll(reader).gaps).toEqual([[2, 3]]);
  });

  test.each([
    ['ASCII', ascii],
    ['BINARY', binary(gapped, 'setInt16')],
  ])('without a rate the timestamps of %s tell rate and gap', (kind, samples) => {
    const reader = open({ kind, rates: '0\r\n0,4' }, samples);
    expect(reader.facts.rateHz).toBe(1000);
    expect(readAll(reader).gaps).toEqual([[2, 3]]);
  });

  test('timestamps count timemult microseconds, or nanoseconds after nine decimals', () => {
    const ticks = (step: number) =>
      Array.from({ length: 4 }, (_, k) => `${k + 1},${k * step},1,1`).join('\n');
    const timed = { rates: '0\r\n0,4' };
    expect(open({ ...timed, tail: '50' }, ticks(10)).facts.rateHz).toBe(2000);
    const nanos = { ...timed, first: '25/11/2026,06:59:08.123456789' };
    expect(open(nanos, ticks(500_000)).facts.rateHz).toBe(2000);
  });

  test('timestamps of 32 bits that begin again', () => {
    const wrapped = Array.from({ length: 6 }, (_, k) => [
      k + 1,
      (2 ** 32 - 3000 + k * 1000) % 2 ** 32,
      k,
      k,
    ]);
    const reader = open({ kind: 'BINARY', rates: '0\r\n0,6' }, binary(wrapped, 'setInt16'));
    expect(reader.facts.rateHz).toBe(1000);
    expect(readAll(reader).gaps).toEqual([]);
  });
});

describe('what is wrong is told in one line', () => {
  const binaryKind = { kind: 'BINARY' };
  test.each([
    ['an empty .dat', {}, '', 'bay.dat: is empty'],
    [
      'fewer rows than promised',
      {},
      dat.slice(0, 26),
      'bay.dat: is cut: 2 rows are there and the .cfg promises 4',
    ],
    [
      'a row cut in the middle',
      {},
      dat.slice(0, 22),
      'bay.dat: line 2: is cut in the middle: it has 3 cells where 4 or',
    ],
    [
      'fewer binary rows',
      binaryKind,
      binary(rows, 'setInt16').subarray(0, 47),
      'bay.dat: is cut: 3 rows are there and the .cfg promises 4',
    ],
    ['not one binary row', binaryKind, 'abc', 'bay.dat: holds 3 bytes, not one row of 12'],
    [
      'binary for ASCII',
      {},
      binary(rows, 'setInt16'),
      'bay.dat: line 1: begins with no row number',
    ],
    [
      'a word for a sample',
      {},
      dat.replace('300', 'over'),
      'bay.dat: line 2: "over" in column 4 is no number',
    ],
    [
      'no current',
      { amps: '2,gun,A,,degC,1,0,0,-9,9,1,1,P' },
      dat,
      'bay.cfg: no channel in A (units here: "V", "degC")',
    ],
    [
      'rates that differ',
      { rates: '2\r\n1000,2\r\n2000,4' },
      dat,
      'line 8: the rate changes from 1000 to 2000 samples/s',
    ],
    [
      'no file type',
      { kind: 'EBCDIC' },
      dat,
      'the file type is none of ASCII, BINARY, BINARY32, FLOAT32',
    ],
    [
      'a multiplier that is none',
      { volts: '1,line,A,,V,half,10,0,-9,9,1,1,P' },
      dat,
      'line 3: the multiplier a of channel "line" is "half"; a number is needed',
    ],
    [
      'channels that are not counted',
      { counts: 'many' },
      dat,
      'line 2: "many" counts no channels; "8,8A,0D" is right',
    ],
    [
      'a channel cut short',
      { volts: '1,line,A' },
      dat,
      'line 3: the analog channel has 3 fields; 13 are right',
    ],
    [
      'timestamps that stand still',
      { rates: '0\r\n0,4' },
      dat.replaceAll(/^(\d+),\d+/gm, '$1,7'),
      'tells no rate and the timestamps do not rise',
    ],
    [
      'no timestamps where they bind',
      { rates: '0\r\n0,4' },
      dat.replaceAll(/^(\d+),\d+/gm, '$1,'),
      'line 1: has no timestamp, and the .cfg tells no rate',
    ],
  ] as const)('%s', (_, change, samples, says) => {
    const told = refusal(() => open(change, samples));
    expect(told).toContain(says);
    expect(told).toMatch(/^RecordingError: bay\.[^\n]+$/);
  });

  test('a half that is not there, an empty and a cut .cfg, a cut .cff', () => {
    expect(refusal(() => openBytes('bay.cfg', cfg()))).toBe(
      'RecordingError: bay.cfg: the other half, bay.dat, is not beside it',
    );
    expect(refusal(() => openBytes('bay.cfg', '', { dat }))).toContain('bay.cfg: is empty');
    expect(refusal(() => openBytes('bay.cfg', cfg().slice(0, 80), { dat }))).toMatch(/bay\.cfg: /);
    const cff = `--- file type: CFG ---\n${cfg(binaryKind)}--- file type: DAT BINARY: 48 ---\n1234`;
    expect(refusal(() => openBytes('bay.cff', cff))).toBe(
      'RecordingError: bay.cff: is cut: 4 bytes of samples are there and 48 are promised',
    );
    expect(refusal(() => openBytes('bay.cff', 'hello\n'))).toContain('line 1 is no section');
    expect(refusal(() => openBytes('bay.cff', ''))).toContain('is empty');
  });
});
