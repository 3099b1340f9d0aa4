import { Frequency10s } from '../../shared/metrology/frequency-10s.ts';
import type { FrequencyRow, IntervalRow } from '../../shared/metrology/interval-row.ts';
import { Intervals } from '../../shared/metrology/intervals.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { Spectrum } from '../../shared/metrology/spectrum.ts';
import type { SpectrumRow } from '../../shared/metrology/spectrum-row.ts';

export interface MeasuredStream {
  rateHz: number;
  frames: number;
  nominalHertz: 50 | 60 | null;
  /** Values at a sample, in the order v1, i1, v2, i2, … */
  columns: readonly ((sample: number) => number)[];
  blockFrames?: number;
}

/** A stream through meter, intervals, spectra and frequency, wired as a watch wires them. */
export function measureStream(stream: MeasuredStream) {
  const { rateHz, frames, nominalHertz, columns, blockFrames = 1024 } = stream;
  const pairs = columns.length / 2;
  const basics: IntervalRow[] = [];
  const spectra: SpectrumRow[] = [];
  const frequencies: FrequencyRow[] = [];
  const spectrum = new Spectrum(
    { rateHz, pairs, nominalHertz },
    { spectrum: (row) => spectra.push(structuredClone(row)) },
  );
  const intervals = new Intervals(
    { rateHz, pairs, nominalHertz, startedAt: null },
    {
      basic: (row) => {
        basics.push(structuredClone(row));
        spectrum.window(row);
      },
    },
  );
  const frequency = new Frequency10s(
    { rateHz, startedAt: null },
    { frequency: (row) => frequencies.push({ ...row }) },
  );
  const meter = new Meter(
    { rateHz, pairs, nominalHertz },
    {
      halfCycle: (row) => {
        intervals.halfCycle(row);
        frequency.halfCycle(row);
      },
    },
  );
  const block = columns.map(() => new Float64Array(blockFrames));
  for (let at = 0; at < frames; at += blockFrames) {
    const length = Math.min(blockFrames, frames - at);
    columns.forEach((value, c) => {
      for (let n = 0; n < length; n++) block[c]![n] = value(at + n);
    });
    spectrum.push(block, length);
    meter.push(block, length);
  }
  meter.end();
  intervals.finish();
  return { basics, spectra, frequencies };
}

/** Sum of lines [order, part of the fundamental's peak, degrees] at a phase in turns. */
export function waveAt(
  turns: number,
  lines: readonly (readonly [order: number, part: number, degrees: number])[],
): number {
  let sum = 0;
  for (const [order, part, degrees] of lines) {
    sum += part * Math.sin(2 * Math.PI * order * turns + (degrees * Math.PI) / 180);
  }
  return sum;
}

/** IEC 61000-4-30, 6.2, from memory: the waveforms of uncertainty states 1 to 3. */
export const STATES = [
  {
    name: 'state 1',
    offset: 0.3,
    lines: [
      [1, 1, 0],
      [3, 0.02, 30],
    ],
  },
  {
    name: 'state 2',
    offset: -1,
    lines: [
      [1, 1, 0],
      [3, 0.1, 0],
      [5, 0.05, 0],
      [29, 0.05, 0],
      [7.5, 0.01, 0],
    ],
  },
  {
    name: 'state 3',
    offset: 1,
    lines: [
      [1, 1, 0],
      [7, 0.1, 180],
      [13, 0.05, 0],
      [25, 0.05, 0],
      [3.5, 0.01, 0],
    ],
  },
] as const;

/** A small generator of noise, uniform in ±1: the same seed gives the same samples. */
export function noiseFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}
