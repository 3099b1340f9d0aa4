/**
 * Judging, all measurements on: times real time, for one pair at 10 240/s, from samples in memory
 * and from a COMTRADE BINARY file, and the memory that a long record takes over a short one.
 * Times are of the processor, not of the wall: judging is one thread.
 * The rival is a numpy script that reads the same file and computes cycle r.m.s., power and dips.
 * `npx tsx tests/bench/judge.ts [--json]`
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import { plate240, watchOf } from '../watch/judged.ts';
import { quietSupply, samples } from '../watch/synth.ts';

const python = '/usr/bin/python3';
const rateHz = 10_240;
const minute = 60;
const rounds = 3;
/** An arc in every ten seconds, four long: 40 % of the time, as much as a plate allows. */
const arcs = Array.from({ length: 6 }, (_, n) => ({
  startS: 3 + 10 * n,
  endS: 7 + 10 * n,
  amps: 24,
}));

/** Writes `argv[2]` minutes of one minute's samples (argv[3]: int16 pairs) as COMTRADE BINARY. */
const writeScript = `
import sys, numpy as np
base, minutes, raw = sys.argv[1], int(sys.argv[2]), np.fromfile(sys.argv[3], '<i2').reshape(-1, 2)
n = len(raw)
with open(base + '.dat', 'wb') as out:
  for k in range(minutes):
    row = np.zeros(n, [('n', '<u4'), ('t', '<u4'), ('x', '<i2', 2)])
    row['n'] = np.arange(n) + k * n + 1; row['x'] = raw
    row.tofile(out)
open(base + '.cfg', 'w').write('s,d,1999\\n2,2A,0D\\n'
  '1,v,,,V,0.015,0,0,-32767,32767,1,1,P\\n2,i,,,A,0.003,0,0,-32767,32767,1,1,P\\n'
  '60\\n1\\n10240,%d\\n,\\n,\\nBINARY\\n1\\n' % (n * minutes))`;

/** The same job's simplest half: per-cycle r.m.s., power, dips, arcs by a threshold. */
const rivalScript = `
import sys, time, numpy as np
path = sys.argv[1]
start = time.process_time()
row = np.fromfile(path[:-3] + 'dat', [('n', '<u4'), ('t', '<u4'), ('x', '<i2', 2)])
v = row['x'][:, 0] * 0.015; i = row['x'][:, 1] * 0.003
up = np.flatnonzero((v[:-1] < 0) & (v[1:] >= 0))
spans = np.diff(up)
sums = lambda x: np.add.reduceat(x, up)[:-1] / spans
urms, irms, watts = np.sqrt(sums(v * v)), np.sqrt(sums(i * i)), sums(v * i)
arc = np.diff((irms > 2).astype(int)); dips = urms < 0.9 * 240
print(len(v) / 10240 / (time.process_time() - start))`;

interface Result {
  subject: string;
  timesRealTime: number;
  nsPerSample: number;
  memoryMib: number;
}

function fromMemory(seconds: number): Result {
  const channels = samples({ ...quietSupply, seconds: minute, arcs, noiseVolts: 0.2 });
  const blocks: Float64Array[][] = [];
  for (let from = 0; from < channels[0].length; from += 8_192)
    blocks.push(channels.map((each) => each.slice(from, from + 8_192)));
  return timed(`${seconds} s from memory`, seconds, (grow) => {
    const watch = watchOf(rateHz, 1, { plate: plate240, keep: 5_000, quality: true });
    for (let at = 0; at < seconds; at += minute) {
      for (const block of blocks) watch.push(block, block[0]!.length);
      grow();
    }
    watch.end();
    watch.judgement('memory');
  });
}

function fromFile(path: string, seconds: number): Result {
  return timed(`${seconds} s from ${path.slice(-7)}`, seconds, (grow) => {
    const { reader, close } = openRecordingFile(path);
    const watch = watchOf(rateHz, 1, { plate: plate240, keep: 5_000, quality: true });
    let blocks = 0;
    for (let block = reader.next(); block !== null; block = reader.next()) {
      watch.push(block.channels, block.frames);
      if (++blocks % 100 === 0) grow();
    }
    close();
    watch.end();
    watch.judgement('file');
  });
}

function timed(subject: string, seconds: number, run: (grow: () => void) => void): Result {
  const before = process.memoryUsage.rss();
  let most = before;
  let best = Infinity;
  for (let round = 0; round < rounds; round++) {
    const start = process.cpuUsage();
    run(() => {
      most = Math.max(most, process.memoryUsage.rss());
    });
    const { user, system } = process.cpuUsage(start);
    best = Math.min(best, (user + system) / 1000);
  }
  return {
    subject,
    timesRealTime: (seconds * 1000) / best,
    nsPerSample: (best * 1e6) / (seconds * rateHz),
    memoryMib: (most - before) / 2 ** 20,
  };
}

function writeFiles(folder: string): void {
  const [volts, amps] = samples({ ...quietSupply, seconds: minute, arcs, noiseVolts: 0.2 });
  const raw = new Int16Array(2 * volts.length);
  for (let n = 0; n < volts.length; n++) {
    raw[2 * n] = Math.round(volts[n]! / 0.015);
    raw[2 * n + 1] = Math.round(amps[n]! / 0.003);
  }
  const path = join(folder, 'raw');
  execFileSync(
    python,
    ['-c', 'import sys; open(sys.argv[1], "wb").write(sys.stdin.buffer.read())', path],
    {
      input: Buffer.from(raw.buffer),
    },
  );
  for (const minutes of [1, 60])
    execFileSync(python, ['-c', writeScript, join(folder, `m${minutes}`), String(minutes), path]);
}

function main(): void {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-bench-'));
  try {
    writeFiles(folder);
    fromMemory(10 * minute);
    const results = [
      fromMemory(minute),
      fromMemory(60 * minute),
      fromMemory(600 * minute),
      fromFile(join(folder, 'm1.cfg'), minute),
      fromFile(join(folder, 'm60.cfg'), 60 * minute),
    ];
    const rival = Math.max(
      ...Array.from({ length: rounds }, () =>
        Number(
          execFileSync(python, ['-c', rivalScript, join(folder, 'm60.cfg')], { encoding: 'utf8' }),
        ),
      ),
    );
    const machine = `${cpus()[0]?.model}, Node ${process.version}`;
    if (process.argv.includes('--json')) {
      process.stdout.write(`${JSON.stringify({ subject: 'judge', machine, results, rival })}\n`);
      return;
    }
    process.stdout.write(`${machine}\ntimes real time, ns a sample of a pair, memory over start\n`);
    for (const { subject, timesRealTime, nsPerSample, memoryMib } of results)
      process.stdout.write(
        `${subject.padEnd(24)} ${timesRealTime.toFixed(0).padStart(7)} ` +
          `${nsPerSample.toFixed(1).padStart(7)}  +${memoryMib.toFixed(1)} MiB\n`,
      );
    process.stdout.write(
      `numpy, the simplest half of it, whole file in memory: ${rival.toFixed(0)}\n`,
    );
  } finally {
    rmSync(folder, { recursive: true });
  }
}

main();
