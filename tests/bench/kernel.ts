/**
 * The half-cycle kernel beside gcc -O3 of the same algorithm and numpy in blocks of 1,024, all with
 * fractional borders found by the same probe, in turns. Best burst of each: other work on the
 * machine only ever adds. `npx tsx tests/bench/kernel.ts [--json]`
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Meter } from '../../shared/metrology/meter.ts';

const python = '/usr/bin/python3';
const rateHz = 10_240;
const block = 1024;
/** 384 cycles of 60 Hz: pushed over and over it has no seam. */
const frames = 64 * 1024;
const hertz = 60;
const turns = 4;

/** What one would write with numpy: whole blocks at a time, nothing per sample in Python. */
const numpyScript = `
import sys, time, numpy as np
rate, bursts = float(sys.argv[1]), int(sys.argv[2])
x = np.frombuffer(sys.stdin.buffer.read(), "<f8").reshape(2, -1)
n, block, group = x.shape[1], 1024, int(rate / 1200)
half, slow_rate = rate / 120, rate / group
reach = int(np.ceil(slow_rate / 60)) - 1
m = np.arange(-reach, reach + 1)
w = np.cos(np.pi * m * 60 / (2 * slow_rate)) ** 2
kernel = (w * np.exp(2j * np.pi * 60 * m / slow_rate) * 2 / w.sum())
kernels = np.stack([kernel.real, kernel.imag], axis=1)
hold = 6 * int(half)
def meter():
    global half
    raw = x[:, :hold].copy(); origin = 0; border = 2 * half; last = None
    while True:
        b = yield
        raw = np.concatenate([raw, b], axis=1)
        end = origin + raw.shape[1]
        g0 = -(-origin // group)
        g1 = end // group
        slow = raw[0, g0 * group - origin:g1 * group - origin].reshape(-1, group).sum(axis=1)
        count = int((((g1 - reach - 1.5) * group) - border) / half)
        if count < 1: continue
        foretold = border + half * np.arange(1, count + 1)
        at = np.rint((foretold + 0.5) / group - 0.5).astype(int)
        at = at[at + reach < g1]; foretold = foretold[:len(at)]
        cs = slow[(at - g0)[:, None] + m] @ kernels
        measured = (at + 0.5) * group - 0.5 - np.arctan(cs[:, 0] / cs[:, 1]) / np.pi * half
        surprise = measured - foretold
        surprise -= np.rint(surprise / half) * half
        borders = np.concatenate([[border], foretold + surprise])
        half += 0.15 * surprise.mean()
        v, i = raw
        sums = np.cumsum(np.stack([v * v, i * i, v * i]), axis=1)
        p = borders - 0.5 - origin
        k = np.floor(p).astype(int); u = p - k
        l0 = -u * (u - 1) * (u - 2) / 6; l1 = (u + 1) * (u - 1) * (u - 2) / 2
        l2 = -(u + 1) * u * (u - 2) / 2; l3 = (u + 1) * u * (u - 1) / 6
        s = l0 * sums[:, k - 1] + l1 * sums[:, k] + l2 * sums[:, k + 1] + l3 * sums[:, k + 2]
        halves = np.diff(s, axis=1)
        if last is not None: halves = np.concatenate([last[:, None], halves], axis=1)
        lengths = np.diff(borders)
        if last is not None: lengths = np.concatenate([[last_length], lengths])
        rows = (halves[:, 1:] + halves[:, :-1]) / (lengths[1:] + lengths[:-1])
        urms, irms, watts = np.sqrt(rows[0]), np.sqrt(rows[1]), rows[2]
        last, last_length, border = halves[:, -1], lengths[-1], borders[-1]
        keep = int(min(border - 3, (at[-1] - reach - 2) * group)) - origin
        raw = raw[:, keep:]; origin += keep
        yield_value[:] = [urms[-1], watts[-1]]
yield_value = [0, 0]
run = meter(); next(run)
best = 1e9
for burst in range(bursts):
    t = time.perf_counter()
    for k in range(hold if burst == 0 else 0, n - block + 1, block): run.send(x[:, k:k + block])
    best = min(best, (time.perf_counter() - t) / n * 1e9)
    x = np.concatenate([x[:, hold:], x[:, :hold]], axis=1) if burst == 0 else x
print(best, *yield_value)`;

interface Result {
  nanoseconds: number;
  volts: number;
  watts: number;
}

function signal(): [Float64Array, Float64Array] {
  const v = new Float64Array(frames);
  const i = new Float64Array(frames);
  for (let k = 0; k < frames; k++) {
    const angle = (2 * Math.PI * hertz * k) / rateHz;
    v[k] = 170 * (Math.sin(angle) + 0.03 * Math.sin(5 * angle));
    i[k] = 28 * (Math.sin(angle - 0.4) + 0.5 * Math.sin(3 * angle) + 0.2 * Math.sin(5 * angle));
  }
  return [v, i];
}

function ours(v: Float64Array, i: Float64Array, phasors: boolean): () => Result {
  const result: Result = { nanoseconds: Number.POSITIVE_INFINITY, volts: 0, watts: 0 };
  const meter = new Meter(
    { rateHz, pairs: 1, nominalHertz: 60, phasors },
    {
      halfCycle(row) {
        result.volts = row.urms[0]!;
        result.watts = row.watts[0]!;
      },
    },
  );
  const blocks = Array.from({ length: frames / block }, (_, n) =>
    [v, i].map((channel) => channel.subarray(n * block, (n + 1) * block)),
  );
  return () => {
    for (let burst = 0; burst < 150; burst++) {
      const start = process.hrtime.bigint();
      for (let n = 0; n < blocks.length; n++) meter.push(blocks[n]!, block);
      const nanoseconds = Number(process.hrtime.bigint() - start) / frames;
      result.nanoseconds = Math.min(result.nanoseconds, nanoseconds);
    }
    return result;
  };
}

function outside(command: string, words: string[], input: Buffer, best: Result): Result {
  const [nanoseconds, volts, watts] = execFileSync(command, words, { input })
    .toString()
    .split(' ')
    .map(Number);
  return { nanoseconds: Math.min(best.nanoseconds, nanoseconds!), volts: volts!, watts: watts! };
}

export function run(json = process.argv.includes('--json')): void {
  const folder = mkdtempSync(join(tmpdir(), 'kernel-'));
  try {
    const program = join(folder, 'kernel');
    const source = fileURLToPath(new URL('kernel.c', import.meta.url));
    execFileSync('/usr/bin/gcc', ['-O3', '-o', program, source, '-lm']);
    const [v, i] = signal();
    const input = Buffer.concat([v, i].map((channel) => Buffer.from(channel.buffer)));
    const bare = ours(v, i, false);
    const withPhasors = ours(v, i, true);
    const none: Result = { nanoseconds: Number.POSITIVE_INFINITY, volts: 0, watts: 0 };
    let [js, phasors, gcc, numpy] = [none, none, none, none];
    for (let turn = 0; turn < turns; turn++) {
      js = bare();
      gcc = outside(program, [String(rateHz), '60', '150'], input, gcc);
      phasors = withPhasors();
      numpy = outside(python, ['-c', numpyScript, String(rateHz), '12'], input, numpy);
    }
    tell({ js, phasors, gcc, numpy }, json);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function tell(all: Record<'js' | 'phasors' | 'gcc' | 'numpy', Result>, json: boolean): void {
  const perGcc = all.js.nanoseconds / all.gcc.nanoseconds;
  const numpyPer = all.numpy.nanoseconds / all.js.nanoseconds;
  const machine = `${cpus()[0]?.model ?? 'unknown CPU'}, Node ${process.version}`;
  if (json) {
    console.log(JSON.stringify({ subject: 'kernel', machine, ...all, perGcc, numpyPer }));
    return;
  }
  console.log(`half-cycle kernel, one pair at 10,240/s in blocks of 1,024 (${machine})`);
  for (const [name, { nanoseconds, volts, watts }] of Object.entries(all)) {
    const figures = `${volts.toFixed(4)} V, ${watts.toFixed(2)} W`;
    console.log(`  ${name.padEnd(8)} ${nanoseconds.toFixed(2).padStart(7)} ns a pair   ${figures}`);
  }
  console.log(
    `  ${perGcc.toFixed(2)} × gcc -O3 (goal ≤ 2.2), numpy ${numpyPer.toFixed(1)} × (goal ≥ 20)`,
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) run();
