import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { noiseOf, rowsOf } from '../metrology/core-signals.ts';

const python = '/usr/bin/python3';
const available =
  existsSync(python) &&
  (() => {
    try {
      execFileSync(python, ['-c', 'import numpy'], { stdio: 'ignore' });
      return true;
    } catch {
      return false;
    }
  })();

/**
 * The same figures by other means: the record's borders from the phase of its analytic signal,
 * band-limited by an FFT, and integrals of a spline-free, zero-padded resampling to 64 times the
 * rate. Nothing of it is shared with the meter but the record.
 */
const script = `
import json, sys
import numpy as np
rate, = np.frombuffer(sys.stdin.buffer.read(8), "<f8")
x = np.frombuffer(sys.stdin.buffer.read(), "<f8").reshape(2, -1)
n = x.shape[1]
X = np.fft.fft(x[0])
f = np.fft.fftfreq(n, 1 / rate)
band = np.where((f > 30) & (f < 90), 2 * X, 0)
phase = np.unwrap(np.angle(np.fft.ifft(band)))
k = 16
fine = np.fft.irfft(np.fft.rfft(x, axis=1), n * k, axis=1) * k
sums = np.concatenate([np.zeros((3, 1)), np.cumsum(
    np.stack([fine[0] ** 2, fine[1] ** 2, fine[0] * fine[1]]), axis=1) / k], axis=1)
at = (np.arange(n * k + 1) - 0.5) / k
turns = (phase + np.pi / 2) / np.pi
halves = np.arange(np.ceil(turns[0]), np.floor(turns[-1]))
borders = np.interp(halves, turns, np.arange(n))
S = np.stack([np.interp(borders, at, s) for s in sums])
rows = (S[:, 2:] - S[:, :-2]) / (borders[2:] - borders[:-2])
json.dump({"end": borders[2:].tolist(), "volts": np.sqrt(rows[0]).tolist(),
           "amps": np.sqrt(rows[1]).tolist(), "watts": rows[2].tolist()}, sys.stdout)
`;

interface Reference {
  end: number[];
  volts: number[];
  amps: number[];
  watts: number[];
}

function numpyRows(v: Float64Array, i: Float64Array, rateHz: number): Reference {
  const input = Buffer.concat([
    Buffer.from(Float64Array.of(rateHz).buffer),
    Buffer.from(v.buffer, v.byteOffset, v.byteLength),
    Buffer.from(i.buffer, i.byteOffset, i.byteLength),
  ]);
  const out = execFileSync(python, ['-c', script], { input, maxBuffer: 1e8 });
  return JSON.parse(out.toString()) as Reference;
}

/** A whole number of cycles of a rectifier on a soft supply, so that the FFT has no seam. */
function rectifier(rateHz: number, hertz: number): [Float64Array, Float64Array] {
  const length = (rateHz * 120) / hertz;
  const random = noiseOf(17);
  const v = new Float64Array(length);
  const i = new Float64Array(length);
  for (let k = 0; k < length; k++) {
    const angle = (2 * Math.PI * hertz * k) / rateHz + 0.3;
    const orders: readonly [number, number][] = [
      [1, 1],
      [3, -0.7],
      [5, 0.4],
      [7, -0.15],
      [9, 0.05],
    ];
    i[k] = Math.SQRT2 * 12 * orders.reduce((sum, [h, a]) => sum + a * Math.sin(h * angle), 0);
    const drop = orders.reduce((sum, [h, a]) => sum + a * 0.02 * h * Math.cos(h * angle), 0);
    v[k] = Math.SQRT2 * 120 * Math.sin(angle) - 0.4 * i[k]! - 12 * drop + 0.2 * random();
    i[k]! += 0.02 * random();
  }
  return [v, i];
}

describe.skipIf(!available)('rows beside numpy’s (skipped where python3-numpy is not)', () => {
  for (const [rateHz, hertz] of [
    [2400, 50],
    [10_240, 60],
    [10_240, 50],
    [48_000, 60],
  ] as const) {
    test(`a rectifier on a soft supply, ${rateHz}/s, ${hertz} Hz`, () => {
      const [v, i] = rectifier(rateHz, hertz);
      const rows = rowsOf([v, i], { rateHz });
      const reference = numpyRows(v, i, rateHz);
      let compared = 0;
      for (const row of rows) {
        const n = reference.end.findIndex((end) => Math.abs(end - row.end) < rateHz / hertz / 8);
        // The FFT's seam is noise against noise: its first and last rows are not a reference.
        if (n < 4 || n > reference.end.length - 5) continue;
        compared += 1;
        expect(Math.abs(row.end - reference.end[n]!) / (rateHz / hertz)).toBeLessThan(5e-4);
        expect(Math.abs(row.urms[0]! / reference.volts[n]! - 1)).toBeLessThan(5e-4);
        expect(Math.abs(row.irms[0]! / reference.amps[n]! - 1)).toBeLessThan(1e-3);
        expect(Math.abs(row.watts[0]! / reference.watts[n]! - 1)).toBeLessThan(1e-3);
      }
      expect(compared).toBeGreaterThan(200);
    });
  }
});
