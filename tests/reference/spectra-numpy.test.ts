import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';
import { Fft } from '../../shared/metrology/fft.ts';
import { Flickermeter } from '../../shared/metrology/flicker.ts';
import type { IntervalRow } from '../../shared/metrology/interval-row.ts';
import { power1459 } from '../../shared/metrology/power-1459.ts';
import { Spectrum } from '../../shared/metrology/spectrum.ts';
import type { SpectrumRow } from '../../shared/metrology/spectrum-row.ts';

const python = '/usr/bin/python3';
const hasScipy = (() => {
  try {
    execFileSync(python, ['-c', 'import numpy, scipy.signal']);
    return true;
  } catch {
    return false;
  }
})();

/** Runs a script that writes little-endian doubles, then reads them. */
function doubles(script: string, input?: Float64Array): Float64Array {
  const bytes = execFileSync(python, ['-c', script], {
    maxBuffer: 1 << 28,
    ...(input === undefined ? {} : { input: Buffer.from(input.buffer) }),
  });
  return new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length));
}

const why = hasScipy ? '' : ' (skipped: /usr/bin/python3 has no numpy and scipy here)';

describe.skipIf(!hasScipy)(`transforms against numpy${why}`, () => {
  test.each([64, 2048, 8192])('%i random reals: rfft', (size) => {
    const input = Float64Array.from(
      { length: size },
      (_, n) => Math.sin(n * n * 0.7) * 100 + n / 9,
    );
    const out = doubles(
      `import sys, numpy as np
x = np.frombuffer(sys.stdin.buffer.read())
X = np.fft.rfft(x)
np.concatenate([X.real, X.imag]).tofile(sys.stdout.buffer)`,
      input,
    );
    const re = new Float64Array(size / 2 + 1);
    const im = new Float64Array(size / 2 + 1);
    new Fft(size).realForward(input, re, im);
    const largest = out.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    for (let k = 0; k <= size / 2; k++) {
      expect(Math.abs(re[k]! - out[k]!)).toBeLessThan(1e-14 * largest);
      expect(Math.abs(im[k]! - out[size / 2 + 1 + k]!)).toBeLessThan(1e-14 * largest);
    }
  });
});

/**
 * A rectifier's current behind a supply impedance, solved step by step, with noise; then one
 * window between fractional borders. Numpy fits all 50 orders at the true frequency to the
 * window's own samples by least squares: no transform, no reading between samples.
 */
const rectifier = `
import sys, numpy as np
rate, f = RATE, HERTZ
n = int(rate * 0.5)
t = np.arange(n) / rate
fine = 32
dt = 1 / (rate * fine)
v = np.zeros(n); i = np.zeros(n)
cap, load, amps = 150.0, 40.0, 0.0
for k in range(n * fine):
    e = 170 * np.sin(2 * np.pi * f * k * dt)
    if abs(e) > cap or amps > 0:
        amps = max(0.0, amps + dt / 3e-4 * (abs(e) - cap - 0.3 * amps))
    cap += dt / 1.5e-3 * (amps - cap / load)
    if k % fine == 0:
        i[k // fine] = amps * np.sign(e)
        v[k // fine] = e - 0.3 * amps * np.sign(e)
rng = np.random.default_rng(3)
v += rng.normal(0, 0.1, n); i += rng.normal(0, 0.02, n)
cycles = 10 if f < 55 else 12
start = 0.15 * rate + 0.41
end = start + cycles * rate / f
k = np.arange(int(np.ceil(start)), int(np.floor(end)) + 1)
top = min(50, int(0.42 * rate / f - 0.5))
w = 2 * np.pi * f * (k - start) / rate
turns = [g(h * w) for h in range(1, top + 1) for g in (np.cos, np.sin)]
A = np.column_stack([np.ones(k.size)] + turns)
def fit(x):
    c = np.linalg.lstsq(A, x[k], rcond=None)[0]
    re = np.concatenate([[c[0]], c[1::2] / np.sqrt(2)])
    return re, np.concatenate([[0], -c[2::2] / np.sqrt(2)])
vr, vi = fit(v); ir, ii = fit(i)
# Mean square over fractional borders: the whole grid resampled finely by cubic splines.
from scipy.interpolate import CubicSpline
g = start + (end - start) * np.arange(200000) / 200000
V = CubicSpline(np.arange(n), v)(g); I = CubicSpline(np.arange(n), i)(g)
sums = [np.sqrt(np.mean(V * V)), np.sqrt(np.mean(I * I)), np.mean(V * I)]
np.concatenate([[n, start, end, cycles, top], sums, vr, vi, ir, ii, v, i]).tofile(sys.stdout.buffer)
`;

describe.skipIf(!hasScipy)(
  `a rectifier's spectra against a least-squares fit by numpy${why}`,
  () => {
    test.each([
      [10_240, 60.03],
      [10_240, 49.8],
      [4000, 59.7],
    ])('at %i/s and %f Hz', (rateHz, hertz) => {
      const out = doubles(rectifier.replace('RATE', `${rateHz}.0`).replace('HERTZ', `${hertz}`));
      const [n, start, end, cycles, top, urms, irms, watts] = out;
      let at = 8;
      const take = (count: number) => out.subarray(at, (at += count));
      const volts = { re: take(top! + 1), im: take(top! + 1) };
      const amps = { re: take(top! + 1), im: take(top! + 1) };
      const channels = [take(n!).slice(), take(n!).slice()];
      let row: SpectrumRow | null = null;
      const spectrum = new Spectrum(
        { rateHz, pairs: 1, nominalHertz: cycles === 10 ? 50 : 60 },
        { spectrum: (told) => (row = told) },
      );
      spectrum.push(channels, n!);
      const interval: IntervalRow = {
        start: start!,
        end: end!,
        parts: cycles!,
        flagged: false,
        whole: true,
        urms: Float64Array.of(urms!),
        irms: Float64Array.of(irms!),
        watts: Float64Array.of(watts!),
      };
      expect(spectrum.window(interval)).toBe(true);
      const pair = row!.pairs[0]!;
      expect(pair.volts.top).toBe(top);
      const near = (x: number, y: number, allowed: number, what: string) =>
        expect(Math.abs(x - y), what).toBeLessThan(allowed);
      for (let h = 1; h <= top!; h++) {
        // Noise falls differently on a fit and on bins. Class I: 0.05 % of 120 V, 0.15 % of 20 A.
        near(pair.volts.re[h]!, volts.re[h]!, 0.03, `v re ${h}`);
        near(pair.volts.im[h]!, volts.im[h]!, 0.03, `v im ${h}`);
        near(pair.amps.re[h]!, amps.re[h]!, 0.015, `i re ${h}`);
        near(pair.amps.im[h]!, amps.im[h]!, 0.015, `i im ${h}`);
      }
      const fitted = power1459(volts, amps, { volts: urms!, amps: irms!, watts: watts! });
      for (const key of ['P1', 'Q1', 'S1', 'S', 'N'] as const) {
        near(pair.power[key], fitted[key], 2e-4 * fitted.S, key);
      }
      near(pair.power.THDI, fitted.THDI, 2e-3, 'THDI');
      expect(fitted.THDI).toBeGreaterThan(0.5);
    });
  },
);

/** Blocks 1 to 4 of a flickermeter at full rate: continuous filters discretised by scipy. */
const scipyFlicker = `
import sys, numpy as np
from scipy import signal
rate = 4000.0
v = np.frombuffer(sys.stdin.buffer.read())
x = v * v
x = x / np.mean(x[int(rate * 5):]) - 1
tp = 2 * np.pi
z, p, k = signal.butter(6, tp * 42, analog=True, output='zpk')
def run(num, den, x):
    b, a = signal.bilinear(num, den, rate)
    return signal.lfilter(b, a, x)
x = run([1, 0], [1, tp * 0.05], x)
x = signal.sosfilt(signal.butter(6, 42, fs=rate, output='sos'), x)
lam, w1, w2, w3, w4 = [tp * f for f in (4.167375, 9.077169, 2.939902, 1.394468, 17.31512)]
x = run([1.6357 * w1, 0], [1, 2 * lam, w1 * w1], x)
x = run([1 / w2, 1], [1 / (w3 * w4), 1 / w3 + 1 / w4, 1], x)
x = run([1], [0.3, 1], x * x)
# Scaled by the same reference: 8.8 Hz of 0.321 % peaks at 1.
t = np.arange(int(rate * 20)) / rate
r = (np.sin(tp * 60 * t) * (1 + 0.00321 / 2 * np.sin(tp * 8.8 * t))) ** 2
r = r / np.mean(r) - 1
r = run([1, 0], [1, tp * 0.05], r)
r = signal.sosfilt(signal.butter(6, 42, fs=rate, output='sos'), r)
r = run([1.6357 * w1, 0], [1, 2 * lam, w1 * w1], r)
r = run([1 / w2, 1], [1 / (w3 * w4), 1 / w3 + 1 / w4, 1], r)
r = run([1], [0.3, 1], r * r)
(x / np.max(r[int(rate * 15):]))[::400].tofile(sys.stdout.buffer)
`;

describe.skipIf(!hasScipy)(`flicker of welding against scipy${why}`, () => {
  test('Pinst of irregular arcs, every tenth of a second, within 3 % of its peak', () => {
    const rate = 4000;
    const seconds = 60;
    // Sags of 2 % that come and go without rhythm, and a tremble in them.
    const volts = Float64Array.from({ length: rate * seconds }, (_, n) => {
      const t = n / rate;
      const on = Math.sin(0.9 * t) + Math.sin(2.3 * t + 1) > 0.4 ? 1 : 0;
      const sag = on * (0.02 + 0.004 * Math.sin(61 * t));
      return 170 * Math.sin(2 * Math.PI * 60 * t) * (1 - sag);
    });
    const theirs = doubles(scipyFlicker, volts);
    const meter = new Flickermeter({ rateHz: rate, lamp: '120V60Hz' });
    const ours = new Float64Array(seconds * 10);
    for (let k = 0; k < ours.length; k++) {
      // Theirs is read at the first sample of each tenth.
      meter.push(volts.subarray(400 * k, 400 * k + 400), 400);
      ours[k] = meter.pinst;
    }
    const peak = theirs.reduce((most, x) => Math.max(most, x), 0);
    expect(peak).toBeGreaterThan(5);
    for (let k = 200; k < ours.length - 1; k++) {
      expect(Math.abs(ours[k]! - theirs[k + 1]!), `${k / 10} s`).toBeLessThan(0.03 * peak);
    }
  });
});

const feeder = fileURLToPath(new URL('../../../shared/data/comtrade/feeder-60hz', import.meta.url));
const hasFeeder = existsSync(feeder);

describe.skipIf(!hasFeeder)(
  `a recorded feeder${hasFeeder ? '' : ' (skipped: ../shared/data is not beside the project)'}`,
  () => {
    /** Channels of the ASCII record as value = a·x + b, by their place in the file. */
    const channels = () => {
      const config = readFileSync(`${feeder}/feeder-60hz.cfg`, 'latin1').split(/\r?\n/);
      const rows = readFileSync(`${feeder}/feeder-60hz.dat`, 'latin1')
        .split(/[\r\n]+/)
        .map((line) => line.split(','))
        .filter((fields) => fields.length > 9);
      return Array.from({ length: 8 }, (_, c) => {
        const facts = config[2 + c]!.split(',');
        const a = Number(facts[5]);
        const b = Number(facts[6]);
        return {
          unit: facts[4]!,
          values: Float64Array.from(rows, (fields) => a * Number(fields[2 + c]) + b),
        };
      });
    };
    const ofUnit = (unit: RegExp) => channels().filter((channel) => unit.test(channel.unit));

    /** R.m.s. phasors of all bins of the record: 2048 samples, four cycles and a hair. */
    const phasors = (values: Float64Array) => {
      const re = new Float64Array(1025);
      const im = new Float64Array(1025);
      new Fft(2048).realForward(values, re, im);
      for (let k = 0; k <= 1024; k++) {
        const scale = k === 0 || k === 1024 ? 1 / 2048 : Math.SQRT2 / 2048;
        re[k]! *= scale;
        im[k]! *= scale;
      }
      return { re, im };
    };

    test('its harmonics are those of an independent transform', () => {
      const { re, im } = phasors(ofUnit(/^v/i)[0]!.values);
      const size = (h: number) => Math.hypot(re[4 * h]!, im[4 * h]!);
      expect(size(1)).toBeCloseTo(348.8914, 3);
      expect((100 * size(3)) / size(1)).toBeCloseTo(0.475, 3);
      expect((100 * size(5)) / size(1)).toBeCloseTo(0.977, 3);
      expect((100 * size(7)) / size(1)).toBeCloseTo(0.521, 3);
      const orders = Array.from({ length: 39 }, (_, n) => size(n + 2));
      expect((100 * Math.hypot(...orders)) / size(1)).toBeCloseTo(1.317, 3);
    });

    test('its power is that of plain sums, pair by pair (Parseval)', () => {
      const volts = ofUnit(/^v/i);
      const amps = ofUnit(/^a/i);
      const known = [
        { P: 40_500.22, S: 44_005.482, PF: 0.92034 },
        { P: 49_502.44, S: 53_478.719, PF: 0.92565 },
        { P: 53_633.93, S: 57_668.957, PF: 0.93003 },
      ];
      known.forEach((wanted, pair) => {
        const found = power1459(phasors(volts[pair]!.values), phasors(amps[pair]!.values));
        expect(found.P).toBeCloseTo(wanted.P, 1);
        expect(found.S).toBeCloseTo(wanted.S, 2);
        expect(found.PF).toBeCloseTo(wanted.PF, 5);
      });
    });
  },
);
