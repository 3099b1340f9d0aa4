import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import type { DataKind } from '../../shared/recording/comtrade-cfg.ts';
import { ComtradeWriter } from '../../shared/recording/comtrade-writer.ts';
import { MemorySink, readAll } from '../recording/helpers.ts';

const python = '/usr/bin/python3';
const folder = mkdtempSync(join(tmpdir(), 'stiffline-numpy-'));
afterAll(() => rmSync(folder, { recursive: true }));

function numpy(script: string, ...argv: string[]): string {
  return execFileSync(python, ['-c', `import sys, json, numpy as np\n${script}`, ...argv], {
    encoding: 'utf8',
  });
}

/** Reads what we wrote, from the layout that the standard gives, with no code of ours. */
const readScript = `
text = open(sys.argv[1], newline='').read().split('\\r\\n')
analogs = [line.split(',') for line in text[2:6]]
rate, rows = text[8].split(',')
kind = {'BINARY': '<i2', 'BINARY32': '<i4', 'FLOAT32': '<f4'}[text[11]]
row = np.dtype([('n', '<u4'), ('t', '<u4'), ('x', kind, 4)])
data = np.fromfile(sys.argv[2], row)
values = data['x'] * [float(a[5]) for a in analogs] + [float(a[6]) for a in analogs]
json.dump({'rate': float(rate), 'rows': int(rows), 'units': [a[4] for a in analogs],
  'n': [int(data['n'][0]), int(data['n'][-1])], 'stamps': data['t'][:3].tolist(),
  'start': text[9], 'values': values.T.tolist()}, sys.stdout)`;

const hasNumpy = (() => {
  if (!existsSync(python)) return false;
  try {
    numpy('');
    return true;
  } catch {
    return false;
  }
})();

describe.skipIf(!hasNumpy)('recordings against numpy (skipped without it)', () => {
  const columns = Array.from({ length: 4 }, (_, k) =>
    Float64Array.from(
      { length: 5000 },
      (_, row) => Math.round(3e4 * Math.sin(row / 27 + k)) * 0.01 + k,
    ),
  );

  test.each<[DataKind, 16 | 32]>([
    ['BINARY', 16],
    ['BINARY32', 32],
    ['FLOAT32', 16],
  ])('%s that we wrote is read by numpy', (kind, bits) => {
    const main = new MemorySink();
    const dat = new MemorySink();
    const writer = new ComtradeWriter(
      {
        kind,
        station: 'bay',
        device: 'outlet',
        rateHz: 10_240,
        hertz: 60,
        startedAt: Date.UTC(2026, 10, 25, 6, 59, 8) * 1000 + 123_456,
        channels: columns.map((_, k) => ({
          name: `c${k}`,
          unit: k % 2 === 0 ? ('V' as const) : ('A' as const),
          scale: 0.01,
          offset: k,
          bits,
        })),
      },
      { config: main, samples: dat },
    );
    writer.writeValues(columns, 5000);
    writer.close();
    writeFileSync(join(folder, 'a.cfg'), main.bytes);
    writeFileSync(join(folder, 'a.dat'), dat.bytes);
    const told = JSON.parse(numpy(readScript, join(folder, 'a.cfg'), join(folder, 'a.dat')));
    const { values, ...facts } = told;
    expect(facts).toEqual({
      rate: 10_240,
      rows: 5000,
      units: ['V', 'A', 'V', 'A'],
      n: [1, 5000],
      stamps: [0, 98, 195],
      start: '25/11/2026,06:59:08.123456',
    });
    for (const [index, column] of columns.entries())
      for (const [row, value] of column.entries())
        expect(Math.abs(values[index][row] - value)).toBeLessThan(1e-9);
  });

  test('what numpy wrote is read by us: BINARY and CSV of 17 digits', () => {
    const script = `
t = np.arange(30000) / 12800
v = 170 * np.sin(2 * np.pi * 60 * t); i = 30 * np.sin(2 * np.pi * 60 * t - 0.3)
base = sys.argv[1]
row = np.zeros(t.size, [('n', '<u4'), ('t', '<u4'), ('v', '<i2'), ('i', '<i2')])
row['n'] = np.arange(t.size) + 1; row['v'] = np.rint(v / 0.01); row['i'] = np.rint(i / 0.002)
row.tofile(base + '/b.dat')
open(base + '/b.cfg', 'w').write('s,d,1999\\n2,2A,0D\\n1,v,,,V,0.01,0,0,-32767,32767,1,1,P\\n'
  '2,i,,,A,0.002,0,0,-32767,32767,1,1,P\\n60\\n1\\n12800,30000\\n01/01/2026,00:00:00.000000\\n'
  '01/01/2026,00:00:00.000000\\nBINARY\\n1\\n')
table = np.column_stack([t, v, i])
np.savetxt(base + '/c.csv', table, delimiter=',', header='t_s,v1_V,i1_A', comments='')
truth = {'power': float(np.mean(v * i)), 'v': v.tolist(), 'counts': row['i'].tolist()}
json.dump(truth, sys.stdout)`;
    const truth = JSON.parse(numpy(script, folder));
    const read = (name: string) => {
      const { reader, close } = openRecordingFile(join(folder, name));
      const all = readAll(reader);
      close();
      expect(reader.facts.rateHz).toBe(12_800);
      return all.columns;
    };
    const [volts = [], amps = []] = read('c.csv');
    expect(volts).toEqual(truth.v);
    const power = volts.reduce((sum, value, row) => sum + value * amps[row]!, 0) / volts.length;
    expect(power).toBeCloseTo(truth.power, 9);
    expect(read('b.cfg')[1]).toEqual(truth.counts.map((count: number) => count * 0.002));
  });
});
