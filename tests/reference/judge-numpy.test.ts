import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import { feed, watchOf } from '../watch/judged.ts';

const python = '/usr/bin/python3';
const hasNumpy = (() => {
  try {
    execFileSync(python, ['-c', 'import numpy']);
    return existsSync(python);
  } catch {
    return false;
  }
})();

/**
 * Numpy draws a weak supply with a rectifier's current,
 * writes it as CSV, and works out the same figures by sums over whole cycles of the arc.
 */
const script = `
import sys, json, numpy as np
path = sys.argv[1]; rate = 8000.0; f = 59.93
t = np.arange(int(rate * 9)) / rate
arc = (t >= 2.1034) & (t < 6.7777)
size = np.where(arc, 21.0, 0.4)
w = 2 * np.pi * f
orders = [(1, 1.0, -0.2), (3, 0.6, 2.4), (5, 0.3, -1.1), (7, 0.1, 0.5)]
i = size * np.sqrt(2) * sum(a * np.sin(k * w * t + p) for k, a, p in orders)
di = size * np.sqrt(2) * sum(a * k * np.cos(k * w * t + p) for k, a, p in orders)
v = 118.2 * np.sqrt(2) * np.sin(w * t + 0.05) - 0.5 * i - 0.06 * di
rng = np.random.default_rng(7)
v += rng.normal(0, 0.15, t.size); i = i + rng.normal(0, 0.03, t.size)
v = np.round(v, 4); i = np.round(i, 4)
np.savetxt(path, np.column_stack([t, v, i]), delimiter=',', header='t_s,v1_V,i1_A',
  comments='', fmt=['%.9f', '%.4f', '%.4f'])
cycle = rate / f
def figures(first, cycles):
  lo = int(round(first)); hi = int(round(first + cycles * cycle))
  a, b = v[lo:hi], i[lo:hi]
  V = np.sqrt(np.mean(a * a)); I = np.sqrt(np.mean(b * b)); P = np.mean(a * b)
  return dict(volts=V, amps=I, watts=P, pf=P / V / I)
start = 2.1034 * rate + cycle; many = int((6.7777 - 2.1034) * f) - 2
spectrum = np.fft.rfft(v[int(start):int(start) + int(round(60 * cycle))])
h = np.abs([spectrum[60 * k] for k in range(1, 41)])
idle = figures(0.5 * rate, 90)
print(json.dumps(dict(arc=figures(start, many), idle=idle,
  thd=100 * float(np.sqrt(np.sum(h[1:] ** 2)) / h[0]),
  whole=dict(volts=float(np.sqrt(np.mean(v * v))), amps=float(np.sqrt(np.mean(i * i))),
             watts=float(np.mean(v * i))))))
`;

interface Figures {
  volts: number;
  amps: number;
  watts: number;
  pf: number;
}
interface Reference {
  arc: Figures;
  idle: Figures;
  thd: number;
  whole: Omit<Figures, 'pf'>;
}

describe.skipIf(!hasNumpy)('a judged record against numpy (skipped without it)', () => {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-numpy-'));
  afterAll(() => rmSync(folder, { recursive: true }));

  test('volts, amperes, watts, power factor, distortion and borders', () => {
    const path = join(folder, 'record.csv');
    const reference = JSON.parse(
      execFileSync(python, ['-c', script, path], { encoding: 'utf8' }),
    ) as Reference;
    const judgement = judgeFile(path);
    expect(judgement.arcs).toHaveLength(1);
    const arc = judgement.arcs[0]!;
    const channel = arc.channels[0]!;
    expect(Math.abs(arc.startS - 2.1034)).toBeLessThan(1 / 60);
    expect(Math.abs(arc.endS - 6.7777)).toBeLessThan(1 / 60);
    expect(Math.abs(channel.meanVolts / reference.arc.volts - 1)).toBeLessThan(0.001);
    expect(Math.abs(channel.meanAmps / reference.arc.amps - 1)).toBeLessThan(0.005);
    expect(Math.abs(channel.meanWatts / reference.arc.watts - 1)).toBeLessThan(0.005);
    expect(Math.abs(channel.idleVolts! / reference.idle.volts - 1)).toBeLessThan(0.001);
    expect(channel.powerFactor).toBeCloseTo(reference.arc.pf, 2);
    expect(Math.abs(channel.thdVoltsPercent! / reference.thd - 1)).toBeLessThan(0.05);
    const [whole] = judgement.whole;
    expect(whole!.volts / reference.whole.volts).toBeCloseTo(1, 9);
    expect(whole!.amps / reference.whole.amps).toBeCloseTo(1, 9);
    expect(whole!.watts / reference.whole.watts).toBeCloseTo(1, 9);
  });
});

function judgeFile(path: string): Judgement {
  const { reader, close } = openRecordingFile(path);
  try {
    const { rateHz, pairs } = reader.facts;
    const watch = watchOf(rateHz, pairs);
    for (let block = reader.next(); block !== null; block = reader.next())
      feed(
        watch,
        block.channels.map((each) => each.subarray(0, block.frames)),
      );
    watch.end();
    return watch.judgement('CSV');
  } finally {
    close();
  }
}
