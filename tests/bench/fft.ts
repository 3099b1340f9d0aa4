/**
 * A real transform of 2,048 points beside fft.js and numpy, in turns, best of the rounds.
 * `npx tsx tests/bench/fft.ts [--json]`
 */
import { execFileSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { cpus } from 'node:os';
import { Fft } from '../../shared/metrology/fft.ts';

/** What the benchmark uses of fft.js, which brings no types. */
interface Rival {
  createComplexArray(): number[];
  realTransform(out: number[], input: ArrayLike<number>): void;
}
const RivalFft: new (size: number) => Rival = createRequire(import.meta.url)('fft.js');

const size = 2048;
/** Bursts of about a millisecond, and many: the best of them was not interrupted. */
const rounds = 600;
const repeats = 100;

const rivalScript = `
import time, numpy as np
x = np.random.rand(${size}); best = 1e9
for r in range(200):
  start = time.perf_counter()
  for n in range(100): np.fft.rfft(x)
  best = min(best, (time.perf_counter() - start) / 100)
print(np.__version__, best * 1e6)`;

function microseconds(work: () => void): number {
  const start = performance.now();
  for (let n = 0; n < repeats; n++) work();
  return ((performance.now() - start) * 1000) / repeats;
}

function main(): void {
  const input = Float64Array.from({ length: size }, (_, n) => Math.sin(n * n));
  const re = new Float64Array(size / 2 + 1);
  const im = new Float64Array(size / 2 + 1);
  const ours = new Fft(size);
  const rival = new RivalFft(size);
  const out = rival.createComplexArray();
  let best = Number.POSITIVE_INFINITY;
  let rivalBest = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    best = Math.min(
      best,
      microseconds(() => ours.realForward(input, re, im)),
    );
    rivalBest = Math.min(
      rivalBest,
      microseconds(() => rival.realTransform(out, input)),
    );
  }
  const [version, numpyBest] = execFileSync('/usr/bin/python3', ['-c', rivalScript], {
    encoding: 'utf8',
  })
    .trim()
    .split(' ')
    .map((word, n) => (n === 0 ? word : Number(word))) as [string, number];
  const machine = `${cpus()[0]?.model}, Node ${process.version}, numpy ${version}`;
  const results = [
    { name: 'fft.js', microseconds: rivalBest, ratio: rivalBest / best },
    { name: 'numpy', microseconds: numpyBest, ratio: numpyBest / best },
  ];
  if (process.argv.includes('--json')) {
    process.stdout.write(
      `${JSON.stringify({ subject: 'fft', machine, microseconds: best, results })}\n`,
    );
    return;
  }
  process.stdout.write(`Transform of ${size} reals: ${best.toFixed(1)} µs (${machine})\n`);
  for (const { name, microseconds: time, ratio } of results) {
    process.stdout.write(`  ${name} ${time.toFixed(1)} µs: ${ratio.toFixed(2)} × ours\n`);
  }
}

main();
