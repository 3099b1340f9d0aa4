import type { Hertz } from '../units.ts';
import type { FundamentalProbe } from './fundamental-probe.ts';

/** A little wider than the bands 42.5–57.5 and 51–69 Hz, so that their edges are found inside. */
export const lowestHertz: Hertz = 42;
export const highestHertz: Hertz = 70;

/**
 * Finds the fundamental of `x[from … to)` from nothing: the strongest of a coarse comb, then the
 * frequency at which the phases at both ends of the stretch agree. Leaves the probe tuned to it
 * and measured at the first place it can be; returns 0 where the stretch is shorter than a window.
 */
export function searchFrequency(
  probe: FundamentalProbe,
  x: Float64Array,
  from: number,
  to: number,
  rateHz: Hertz,
): Hertz {
  let hertz = strongest(x, from, to, rateHz);
  for (let pass = 0; pass < 3; pass++) {
    probe.tune(hertz);
    const first = from + probe.reach;
    const last = to - 1 - probe.reach;
    if (last < first) return 0;
    probe.measure(x, last);
    const lastPhase = Math.atan2(probe.cosine, probe.sine);
    probe.measure(x, first);
    if (last === first) break;
    const advance = lastPhase - Math.atan2(probe.cosine, probe.sine);
    const turnsForetold = ((last - first) * hertz) / rateHz;
    const turns = advance / (2 * Math.PI) - turnsForetold;
    hertz += ((turns - Math.round(turns)) * rateHz) / (last - first);
    hertz = Math.min(highestHertz, Math.max(lowestHertz, hertz));
  }
  probe.tune(hertz);
  probe.measure(x, from + probe.reach);
  return hertz;
}

/** Peak of a Hann-windowed comb in steps of half a hertz. */
function strongest(x: Float64Array, from: number, to: number, rateHz: Hertz): Hertz {
  const length = to - from;
  let mean = 0.0;
  for (let k = from; k < to; k++) mean += x[k]!;
  mean /= length;
  let best = (lowestHertz + highestHertz) / 2;
  let bestPower = 0.0;
  for (let hertz = lowestHertz; hertz <= highestHertz; hertz += 0.5) {
    const turn = (2 * Math.PI * hertz) / rateHz;
    let re = 0.0;
    let im = 0.0;
    for (let k = 0; k < length; k++) {
      const weighted = (x[from + k]! - mean) * Math.sin((Math.PI * (k + 0.5)) / length) ** 2;
      re += weighted * Math.cos(turn * k);
      im += weighted * Math.sin(turn * k);
    }
    if (re * re + im * im > bestPower) {
      bestPower = re * re + im * im;
      best = hertz;
    }
  }
  return best;
}
