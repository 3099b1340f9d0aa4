import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openBytes, readAll, refusal } from './helpers.ts';

const header = 't_s,v1_V,i1_A\n';
const rows = (count: number, rateHz: number, decimals: number, from = 0) =>
  Array.from(
    { length: count },
    (_, k) => `${((from + k) / rateHz).toFixed(decimals)},${k % 100},${-k % 7}`,
  );
const csv = (lines: string[], head = header) => `${head}${lines.join('\n')}\n`;
const refuse = (text: string | Uint8Array) => refusal(() => openBytes('weld.csv', text));

describe('a CSV recording is read', () => {
  test('with its facts and its values', () => {
    const reader = openBytes('weld.csv', csv(['0,1.5,-2', '0.001,2.5,-3', '0.002,0,1e1']));
    expect(reader.facts).toMatchObject({
      format: 'CSV',
      rateHz: 1000,
      pairs: 1,
      startedAt: null,
      nominalHertz: null,
    });
    expect(readAll(reader)).toEqual({
      columns: [
        [1.5, 2.5, 0],
        [-2, -3, 10],
      ],
      gaps: [],
    });
  });

  test('with comments, byte order mark, CRLF and blank lines at the end', () => {
    const head = '\ufeff# shop floor, outlet 3\r\n\r\n# hertz: 60\r\n# rate: 1000.5\r\n';
    const text = `${head}t_s,v1_V,i1_A\r\n0,1,2\r\n0.0009995,3,4\r\n\r\n\r\n`;
    const reader = openBytes('WELD.CSV', text);
    expect(reader.facts).toMatchObject({ rateHz: 1000.5, nominalHertz: 60 });
    expect(readAll(reader).columns).toEqual([
      [1, 3],
      [2, 4],
    ]);
  });

  test('with three pairs, each value in its column', () => {
    const head = 't_s,v1_V,i1_A,v2_V,i2_A,v3_V,i3_A\n';
    const reader = openBytes('a.csv', csv(['5,1,2,3,4,5,6', '5.001,7,8,9,10,11,12'], head));
    expect(reader.facts.channels.map(({ name, unit }) => name + unit)).toEqual([
      'v1V',
      'i1A',
      'v2V',
      'i2A',
      'v3V',
      'i3A',
    ]);
    expect(readAll(reader).columns.map((column) => column[1])).toEqual([7, 8, 9, 10, 11, 12]);
  });

  test('without a newline behind the last row', () => {
    expect(readAll(openBytes('a.csv', `${header}0,1,2\n0.001,3,4`)).columns[0]).toEqual([1, 3]);
  });
});

describe('the rate is found', () => {
  test.each([
    [10_240, 6],
    [1000, 3],
    [1024, 6],
    [12_800, 6],
    [30_720, 6],
    [100_000, 5],
    [100_000, 6],
    [44_100, 7],
  ])('%i samples/s from times of %i decimals', (rateHz, decimals) => {
    const reader = openBytes('a.csv', csv(rows(rateHz / 5, rateHz, decimals)));
    expect(reader.facts.rateHz).toBe(rateHz);
    expect(readAll(reader).gaps).toEqual([]);
  });

  test('that is no whole number, within a millionth', () => {
    const rateHz = 30_707.244140625;
    const reader = openBytes('a.csv', csv(rows(9000, rateHz, 9)));
    expect(Math.abs(reader.facts.rateHz / rateHz - 1)).toBeLessThan(1e-6);
  });

  test('through jitter of a quarter sample and a clock that drifts by 50 ppm', () => {
    let seed = 1;
    const noise = () => (seed = (seed * 48_271) % 2_147_483_647) / 2_147_483_647 - 0.5;
    const lines = Array.from({ length: 60_000 }, (_, k) => {
      const drift = k < 25_000 ? 1 : 1.00005;
      return `${(25_000 + (k - 25_000) * drift + noise() / 2) / 5000},1,1`;
    });
    const reader = openBytes('a.csv', csv(lines));
    expect(Math.abs(reader.facts.rateHz / 5000 - 1)).toBeLessThan(1e-4);
    expect(readAll(reader).gaps).toEqual([]);
  });

  test('where times keep six significant digits and grow coarser than a sample', () => {
    const lines = Array.from({ length: 300_000 }, (_, k) => `${(k / 10_240).toPrecision(6)},1,1`);
    const reader = openBytes('a.csv', csv(lines));
    expect(reader.facts.rateHz).toBe(10_240);
    expect(readAll(reader).columns[0]!.length).toBe(300_000);
  });

  test('with rows lost among the first ones', () => {
    const lines = [...rows(500, 10_240, 6), ...rows(1000, 10_240, 6, 700)];
    const reader = openBytes('a.csv', csv(lines));
    expect(reader.facts.rateHz).toBe(10_240);
    expect(readAll(reader).gaps).toEqual([[500, 200]]);
  });
});

describe('lost rows', () => {
  test('are told wherever they are, however many', () => {
    const lost = fc.array(
      fc.tuple(fc.integer({ min: 1, max: 400 }), fc.integer({ min: 1, max: 99 })),
      {
        minLength: 1,
        maxLength: 8,
      },
    );
    fc.assert(
      fc.property(lost, (stretches) => {
        const lines = rows(2000, 4000, 6);
        const gaps: [number, number][] = [];
        let at = 2000;
        for (const [count, gap] of stretches) {
          gaps.push([lines.length, gap]);
          at += gap;
          lines.push(...rows(count, 4000, 6, at));
          at += count;
        }
        expect(readAll(openBytes('a.csv', csv(lines))).gaps).toEqual(gaps);
      }),
      { numRuns: 30 },
    );
  });

  test('values that are "nan", wherever they are, however many blocks the file has', () => {
    const hole = fc.tuple(fc.integer({ min: 0, max: 19_999 }), fc.integer({ min: 1, max: 9000 }));
    fc.assert(
      fc.property(fc.array(hole, { minLength: 1, maxLength: 6 }), fc.boolean(), (holes, volts) => {
        const lines = rows(20_000, 4000, 6);
        const lost = new Set<number>();
        for (const [from, count] of holes)
          for (let row = from; row < Math.min(20_000, from + count); row++) lost.add(row);
        const cell = volts ? /,[^,]*/ : /[^,]*$/;
        const nan = volts ? ',NaN' : ' nan';
        for (const row of lost) lines[row] = lines[row]!.replace(cell, nan);
        const reader = openBytes('a.csv', csv(lines));
        const there = lines.filter((_, row) => !lost.has(row));
        const gaps: [number, number][] = [];
        for (let row = 0, kept = 0, gap = 0; row < lines.length; row++) {
          if (lost.has(row)) gap++;
          else {
            if (gap > 0) gaps.push([kept, gap]);
            gap = 0;
            kept++;
          }
        }
        const read = readAll(reader);
        expect(read.gaps).toEqual(gaps);
        expect(read.columns[0]).toEqual(there.map((line) => Number(line.split(',')[1])));
        expect(reader.missing).toBe(lost.size);
      }),
      { numRuns: 10 },
    );
  });

  test('a step that is no whole number of samples is refused with its line', () => {
    const lines = rows(100, 1000, 6);
    lines.push('0.1006,0,0');
    expect(refuse(csv(lines))).toBe(
      'RecordingError: weld.csv: line 102, column 1 (t_s): the time 0.1006 s is 1.600 samples ' +
        'after the row before; at 1000 samples/s a whole number is right',
    );
  });

  test('a time that goes back is refused', () => {
    expect(refuse(csv([...rows(100, 1000, 6), '0.05,0,0']))).toMatch(/line 102, column 1 .*-49\.0/);
  });
});

describe('what is wrong is told in one line', () => {
  const good = rows(20, 1000, 3);
  test.each([
    ['empty', '', 'is empty; a header "t_s,v1_V,i1_A" and rows are needed'],
    ['only comments', '# a\n# b\n', 'holds no header; "t_s,v1_V,i1_A" is needed'],
    ['no row', header, 'at least 2 rows are needed to find the rate; it has 0'],
    ['one row', `${header}0,1,2\n`, 'to find the rate; it has 1'],
    [
      'another first column',
      csv(good, 'time,v1_V,i1_A\n'),
      'line 1, column 1: the header says "time" where "t_s" is needed',
    ],
    [
      'another unit',
      csv(good, 't_s,v1_mV,i1_A\n'),
      'column 2: the header says "v1_mV" where "v1_V"',
    ],
    [
      'a comment, then a wrong header',
      `# x\n${csv(good, 't_s,v1_V,amps\n')}`,
      'line 2, column 3: the header says "amps"',
    ],
    ['a half pair', csv(good, 't_s,v1_V\n'), 'column 3: the header ends where "i1_A" is needed'],
    [
      'no current of the second pair',
      csv(good, 't_s,v1_V,i1_A,v2_V\n'),
      'ends where "i2_A" is needed',
    ],
    [
      'four pairs',
      csv(good, 't_s,v1_V,i1_A,v2_V,i2_A,v3_V,i3_A,v4_V,i4_A\n'),
      'column 8: the header has 9 columns; 3, 5 or 7 are right',
    ],
    ['no header', csv(good, ''), 'the header says "0.000" where "t_s"'],
    [
      'a word',
      csv([...good, '0.02,over,1', '0.021,1,1']),
      'line 22, column 2 (v1_V): "over" is no number',
    ],
    [
      'an empty cell',
      csv([...good, '0.02,1,', '0.021,1,1']),
      'line 22, column 3 (i1_A): the cell is empty',
    ],
    [
      'more volts than there are',
      csv([...good, '0.02,1e10,1', '0.021,1,1']),
      'column 2 (v1_V): 10000000000 is beyond 1000000000',
    ],
    [
      'a time that is not a number',
      csv([...good, 'nan,1,1', '0.021,1,1']),
      'column 1 (t_s): "nan" is no number',
    ],
    [
      'too few cells',
      csv([...good, '0.02,1', '0.021,1,1']),
      'line 22 has 2 cells where 3 are needed',
    ],
    ['too many cells', csv([...good, '0.02,1,2,3']), 'line 22 has 4 cells where 3 are needed'],
    ['cut in a cell', `${csv(good)}0.02,1`, 'the last line (22) is cut in the middle'],
    ['cut before a cell', `${csv(good)}0.02,1,`, 'the last line (22) is cut in the middle'],
    ['cut in a sign', `${csv(good)}0.02,1,-`, 'the last line (22) is cut in the middle'],
    [
      'times that stand still',
      csv(good.map((row) => row.replace(/^[^,]*/, '7'))),
      'column 1 (t_s) does not rise',
    ],
    ['too slow', csv(rows(20, 50, 3)), '50 samples/s; from 1000 to 10000000 can be measured'],
    [
      'milliseconds for seconds',
      csv(Array.from({ length: 30 }, (_, k) => `${k},1,1`)),
      '1 samples/s; from 1000',
    ],
  ])('%s', (_, text, says) => {
    const told = refuse(text);
    expect(told).toContain(says);
    expect(told).toMatch(/^RecordingError: weld\.csv: [^\n]+$/);
  });

  test('bytes that are no text', () => {
    const junk = Uint8Array.from({ length: 3000 }, (_, k) => (k * 197 + (k >> 3)) % 256);
    expect(refuse(junk)).toMatch(/^RecordingError: weld\.csv: line \d+ is no text/);
    expect(refuse(new Uint8Array(1_000_000))).toContain('is longer than 65536 bytes');
  });

  test('a name that tells no format', () => {
    expect(refusal(() => openBytes('weld.xlsx', ''))).toMatch(/\.csv, \.cfg .* or \.cff is needed/);
  });
});
