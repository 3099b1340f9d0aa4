/**
 * Cost of spectra and of the flickermeter a sample, beside numpy doing the same spectra on whole
 * windows, in turns, best of the rounds. `npx tsx tests/bench/spectra.ts [--json]`
 */
import { execFileSync } from 'node:child_process';
import { cpus } from 'node:os';
import { Flickermeter } from '../../shared/metrology/flicker.ts';
import type { IntervalRow } from '../../shared/metrology/interval-row.ts';
import { Spectrum } from '../../shared/metrology/spectrum.ts';

const rateHz = 10_240;
const hertz = 60.013;
/** Bursts of a few milliseconds, and many: the best of them was not interrupted. */
const rounds = 200;
const block = 1024;
const blocks = 60;
const samples = block * blocks;

/** Cubic splines between fractional borders, rfft, subgroups: one pair, window by window. */
const rivalScript = `
import time, numpy as np
from scipy.interpolate import CubicSpline
length = 12 * ${rateHz} / ${hertz}
n = np.arange(int(length) + 12)
v = 170 * np.sin(n * 0.0368); i = 30 * np.sin(n * 0.0368 - 0.4)
best = 1e9
for r in range(40):
  start = time.perf_counter()
  for w in range(5):
    g = 4.37 + length * np.arange(2048) / 2048
    for x in (v, i):
      X = np.abs(np.fft.rfft(CubicSpline(n, x)(g))) ** 2
      k = 12 * np.arange(1, 51)
      np.sqrt(X[k - 1] + X[k] + X[k + 1])
  best = min(best, (time.perf_counter() - start) / 5 / length)
print(np.__version__, best * 1e9)`;

function nanoseconds(work: () => void): number {
  const start = performance.now();
  work();
  return ((performance.now() - start) * 1e6) / samples;
}

/** One for all rounds: its tables take longer to make than a burst lasts. */
const spectrum = new Spectrum({ rateHz, pairs: 1, nominalHertz: 60 }, { spectrum: () => {} });
const length = (12 * rateHz) / hertz;
const row: IntervalRow = {
  start: 50.3,
  end: 50.3 + length,
  parts: 12,
  flagged: false,
  whole: true,
  urms: Float64Array.of(120),
  irms: Float64Array.of(20),
  watts: Float64Array.of(2000),
};
let pushed = 0;

function spectra(channels: readonly Float64Array[]): void {
  for (let n = 0; n < blocks; n++) {
    spectrum.push(channels, block);
    pushed += block;
    for (; row.end + 200 < pushed; row.start = row.end, row.end += length) spectrum.window(row);
  }
}

const meter = new Flickermeter({ rateHz, lamp: '120V60Hz' });

function flicker(volts: Float64Array): void {
  for (let n = 0; n < blocks; n++) meter.push(volts, block);
}

function main(): void {
  const wave = (peak: number, lag: number) =>
    Float64Array.from({ length: block }, (_, n) => peak * Math.sin((n * 377) / rateHz - lag));
  const channels = [wave(170, 0), wave(30, 0.4)];
  const best = { spectra: Infinity, flicker: Infinity };
  for (let round = 0; round < rounds; round++) {
    best.spectra = Math.min(
      best.spectra,
      nanoseconds(() => spectra(channels)),
    );
    best.flicker = Math.min(
      best.flicker,
      nanoseconds(() => flicker(channels[0]!)),
    );
  }
  const [version, numpy] = execFileSync('/usr/bin/python3', ['-c', rivalScript], {
    encoding: 'utf8',
  })
    .trim()
    .split(' ');
  const machine = `${cpus()[0]?.model}, Node ${process.version}, numpy ${version}`;
  const ratio = Number(numpy) / best.spectra;
  if (process.argv.includes('--json')) {
    process.stdout.write(
      `${JSON.stringify({ subject: 'spectra', machine, ...best, numpy: Number(numpy), ratio })}\n`,
    );
    return;
  }
  process.stdout.write(
    `${machine}\nSpectra with powers: ${best.spectra.toFixed(1)} ns a pair and sample\n` +
      `  numpy, harmonics alone: ${Number(numpy).toFixed(1)} ns, ${ratio.toFixed(1)} × ours\n` +
      `Flickermeter: ${best.flicker.toFixed(1)} ns a sample\n`,
  );
}

main();
