/**
 * Reading speed of recordings against numpy on the same files, in turns, best of three rounds.
 * `npx tsx tests/bench/recording.ts [--json]`
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { openRecordingFile } from '../../shared/files/recording-file.ts';

const python = '/usr/bin/python3';
const rounds = 3;

/** Ten minutes of one pair in BINARY, one minute of it in CSV of 4 and of 17 digits. */
const writeScript = `
import sys, numpy as np
base = sys.argv[1]
t = np.arange(6144000) / 10240
v = 170 * np.sin(2 * np.pi * 60 * t); i = 30 * np.sin(2 * np.pi * 60 * t - 0.3)
def binary(name, rows):
  row = np.zeros(rows, [('n', '<u4'), ('t', '<u4'), ('v', '<i2'), ('i', '<i2')])
  row['n'] = np.arange(rows) + 1
  row['v'] = np.resize(np.rint(v / 0.01), rows); row['i'] = np.resize(np.rint(i / 0.002), rows)
  row.tofile(base + '/' + name + '.dat')
  open(base + '/' + name + '.cfg', 'w').write('s,d,1999\\n2,2A,0D\\n'
    '1,v,,,V,0.01,0,0,-32767,32767,1,1,P\\n2,i,,,A,0.002,0,0,-32767,32767,1,1,P\\n'
    '60\\n1\\n10240,%d\\n,\\n,\\nBINARY\\n1\\n' % rows)
binary('a', 6144000); binary('ten', 61440000)
table = np.column_stack([t, v, i])[:614400]
head = dict(delimiter=',', header='t_s,v1_V,i1_A', comments='')
np.savetxt(base + '/short.csv', table, fmt=['%.6f', '%.4f', '%.4f'], **head)
np.savetxt(base + '/long.csv', table, fmt='%.17g', **head)`;

const rivalScript = `
import sys, time, numpy as np
path = sys.argv[1]
start = time.perf_counter()
if path.endswith('.cfg'):
  row = np.fromfile(path[:-3] + 'dat', [('n', '<u4'), ('t', '<u4'), ('x', '<i2', 2)])
  v = row['x'][:, 0] * 0.01; i = row['x'][:, 1] * 0.002
else:
  v, i = np.loadtxt(path, delimiter=',', skiprows=1, usecols=(1, 2), unpack=True)
print(v.size * 2 / (time.perf_counter() - start) / 1e6)`;

/** Millions of values a second, and the most memory that the reading took over its start, MiB. */
function ours(path: string): { speed: number; memoryMib: number } {
  const before = process.memoryUsage.rss();
  let most = before;
  const start = performance.now();
  const { reader, close } = openRecordingFile(path);
  let values = 0;
  let blocks = 0;
  for (let block = reader.next(); block; block = reader.next()) {
    values += block.frames * block.channels.length;
    if (++blocks % 200 === 0) most = Math.max(most, process.memoryUsage.rss());
  }
  close();
  const speed = values / (performance.now() - start) / 1000;
  return { speed, memoryMib: (most - before) / 2 ** 20 };
}

const theirs = (path: string) =>
  Number(execFileSync(python, ['-c', rivalScript, path], { encoding: 'utf8' }));

function main(): void {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-bench-'));
  try {
    execFileSync(python, ['-c', writeScript, folder]);
    const numpy = execFileSync(python, ['-c', 'import numpy; print(numpy.__version__)']);
    const results = ['a.cfg', 'ten.cfg', 'short.csv', 'long.csv'].map((name) => {
      const path = join(folder, name);
      const runs = Array.from({ length: rounds }, () => ({ our: ours(path), their: theirs(path) }));
      const speed = Math.max(...runs.map(({ our }) => our.speed));
      const rival = Math.max(...runs.map(({ their }) => their));
      const memoryMib = Math.max(...runs.map(({ our }) => our.memoryMib));
      return { name, speed, rival, ratio: speed / rival, memoryMib };
    });
    const machine = `${cpus()[0]?.model}, Node ${process.version}, numpy ${String(numpy).trim()}`;
    if (process.argv.includes('--json')) {
      process.stdout.write(`${JSON.stringify({ subject: 'recording', machine, results })}\n`);
      return;
    }
    process.stdout.write(`${machine}\nmillions of values a second: ours, numpy, ratio; memory\n`);
    for (const { name, speed, rival, ratio, memoryMib } of results)
      process.stdout.write(
        `${name.padEnd(10)} ${speed.toFixed(1).padStart(7)} ${rival.toFixed(1).padStart(7)} ` +
          `${ratio.toFixed(2).padStart(6)}  +${memoryMib.toFixed(1)} MiB\n`,
      );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

main();
