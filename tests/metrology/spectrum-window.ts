import type { IntervalRow } from '../../shared/metrology/interval-row.ts';
import { Spectrum } from '../../shared/metrology/spectrum.ts';
import type { SpectrumRow } from '../../shared/metrology/spectrum-row.ts';

/** A component of a test signal: r.m.s. size, frequency in multiples of the fundamental, angle. */
export interface Line {
  size: number;
  order: number;
  degrees?: number;
}

export interface Wave {
  rateHz: number;
  hertz: number;
  volts: readonly Line[];
  amps: readonly Line[];
  /** Where the window starts, in samples: between two, as a rule. */
  start?: number;
}

export const valueAt = (lines: readonly Line[], hertz: number, seconds: number) =>
  lines.reduce((sum, { size, order, degrees = 0 }) => {
    if (order === 0) return sum + size;
    const angle = 2 * Math.PI * order * hertz * seconds + (degrees * Math.PI) / 180;
    return sum + size * Math.SQRT2 * Math.cos(angle);
  }, 0);

const rms = (lines: readonly Line[]) => Math.hypot(...lines.map((line) => line.size));

/** Mean of v·i: lines of the same order only. */
const watts = ({ volts, amps }: Wave) => {
  let sum = 0;
  for (const v of volts) {
    for (const i of amps) {
      if (v.order !== i.order) continue;
      const angle = (((v.degrees ?? 0) - (i.degrees ?? 0)) * Math.PI) / 180;
      sum += v.size * i.size * Math.cos(angle);
    }
  }
  return sum;
};

/**
 * One window of a wave through Spectrum. Its borders and sums are those of the formula, so what is
 * off afterwards is the spectrum's own doing. Angles count from the window's start.
 */
export function windowOf(wave: Wave, blockFrames = 1000): SpectrumRow {
  const { rateHz, hertz, start = 100.37 } = wave;
  const cycles = hertz < 55 ? 10 : 12;
  const end = start + (cycles * rateHz) / hertz;
  const frames = Math.ceil(end) + 20;
  const sample = (lines: readonly Line[]) =>
    Float64Array.from({ length: frames }, (_, n) => valueAt(lines, hertz, (n - start) / rateHz));
  const columns = [sample(wave.volts), sample(wave.amps)];
  const row: IntervalRow = {
    start,
    end,
    parts: cycles,
    flagged: false,
    whole: true,
    urms: Float64Array.of(rms(wave.volts)),
    irms: Float64Array.of(rms(wave.amps)),
    watts: Float64Array.of(watts(wave)),
  };
  let seen: SpectrumRow | null = null;
  const spectrum = new Spectrum(
    { rateHz, pairs: 1, nominalHertz: cycles === 10 ? 50 : 60 },
    { spectrum: (told) => (seen = told) },
  );
  for (let at = 0; at < frames; at += blockFrames) {
    const until = Math.min(frames, at + blockFrames);
    spectrum.push(
      columns.map((column) => column.subarray(at, until)),
      until - at,
    );
  }
  spectrum.window(row);
  if (seen === null) throw new Error('the window was not read');
  return seen;
}
