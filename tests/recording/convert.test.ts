import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { main } from '../../dashboard/commands/convert.ts';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import { readAll } from './helpers.ts';

let folder = '';
const at = (name: string) => join(folder, name);
const rows = Array.from(
  { length: 3000 },
  (_, k) => `${(k / 10_240).toFixed(6)},${(170 * Math.sin(k / 27)).toFixed(4)},${(k % 31) / 8}`,
);
const convert = (...argv: string[]) => main(argv, new AbortController().signal);
const read = (name: string) => {
  const { reader, close } = openRecordingFile(at(name));
  const { columns } = readAll(reader);
  close();
  return { format: reader.facts.format, rateHz: reader.facts.rateHz, columns };
};

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-convert-'));
  writeFileSync(at('weld.csv'), `t_s,v1_V,i1_A\n${rows.join('\n')}\n`);
  vi.spyOn(process.stderr, 'write').mockReturnValue(true);
});
afterEach(() => {
  vi.restoreAllMocks();
  rmSync(folder, { recursive: true });
});

describe('stiffline convert', () => {
  test('keeps the decimals of a CSV through COMTRADE and back', async () => {
    const given = read('weld.csv');
    expect(await convert(at('weld.csv'), at('weld2.cfg'))).toBe(0);
    expect(await convert(at('weld2.cfg'), at('weld3.cff'))).toBe(0);
    expect(await convert(at('weld3.cff'), at('weld4.csv'))).toBe(0);
    for (const name of ['weld2.dat', 'weld3.cff', 'weld4.csv'])
      expect(read(name)).toMatchObject({ rateHz: 10_240, columns: given.columns });
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('scales a CSV to counts, then hands the counts on as they are', async () => {
    await convert(at('weld.csv'), at('a.cfg'), '--format', 'binary');
    await convert(at('a.cfg'), at('b.cff'), '--format', 'binary32');
    await convert(at('b.cff'), at('c.cfg'), '--format', 'ascii');
    await convert(at('c.cfg'), at('d.cfg'), '--format', 'float32');
    const [given, counted] = [read('weld.csv'), read('a.cfg')];
    expect(counted.format).toBe('COMTRADE 1999 BINARY');
    for (const [row, value] of given.columns[0]!.entries())
      expect(Math.abs(counted.columns[0]![row]! - value)).toBeLessThanOrEqual(
        170 / 32_767 / 2 + 1e-9,
      );
    for (const name of ['b.cff', 'c.cfg']) expect(read(name).columns).toEqual(counted.columns);
    expect(read('c.cfg').format).toBe('COMTRADE 2013 ASCII');
    expect(read('d.cfg').format).toBe('COMTRADE 2013 FLOAT32');
  });

  test('finds the halves of a recording whatever the case of their names', async () => {
    await convert(at('weld.csv'), at('BAY.CFG'));
    expect(readdirSync(folder)).toContain('BAY.DAT');
    writeFileSync(at('bay2.cfg'), readFileSync(at('BAY.CFG')));
    writeFileSync(at('Bay2.Dat'), readFileSync(at('BAY.DAT')));
    expect(read('bay2.cfg').columns).toEqual(read('weld.csv').columns);
  });

  test('leaves nothing behind where the recording is broken or the work is stopped', async () => {
    writeFileSync(at('cut.csv'), `t_s,v1_V,i1_A\n${rows.join('\n')}\n0.3,1`);
    await expect(convert(at('cut.csv'), at('x.cfg'))).rejects.toThrow(/cut in the middle/);
    const many = Array.from({ length: 400_000 }, (_, k) => `${(k / 10_240).toFixed(6)},1,1`);
    writeFileSync(at('long.csv'), `t_s,v1_V,i1_A\n${many.join('\n')}\n`);
    const stopped = main([at('long.csv'), at('y.csv')], AbortSignal.abort());
    await expect(stopped).rejects.toThrow(/stopped before it was whole/);
    expect(readdirSync(folder).sort()).toEqual(['cut.csv', 'long.csv', 'weld.csv']);
  });

  test.each([
    [['weld.csv', 'weld.csv'], /would overwrite IN/],
    [['weld.csv', 'weld.ods'], /must end in \.csv, \.cfg or \.cff/],
    [['weld.csv', 'a.csv', '--format', 'binary'], /CSV has one/],
    [['weld.csv', 'a.cfg', '--format', 'flac'], /one of ascii, binary/],
    [['absent.csv', 'a.csv'], /absent\.csv: there is no such file/],
    [['weld.csv', 'no/such/a.csv'], /there is no such folder/],
  ])('refuses %j', async (argv, says) => {
    const words = argv.map((word, index) => (index < 2 ? at(word) : word));
    await expect(convert(...words)).rejects.toThrow(says);
    expect(readdirSync(folder)).toEqual(['weld.csv']);
  });

  test('never writes over the other half of its own recording', async () => {
    await convert(at('weld.csv'), at('a.cfg'));
    await expect(convert(at('a.dat'), at('a.cfg'))).rejects.toThrow(/would overwrite IN/);
  });
});
