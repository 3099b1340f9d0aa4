import type { EpochMicros, Seconds } from '../units.ts';
import type { WatchedArc } from './contract.ts';

/** One recording of two that were made at once. */
export interface EndStream {
  startedAt: EpochMicros | null;
  arcs: readonly WatchedArc[];
  /** Current of the first pair in bins of `binS`, idle current left in. */
  amps: ArrayLike<number>;
}

export const binS: Seconds = 0.02;
/** Arcs of each that are tried against each other; and the stretch that they are tried on. */
const mostArcs = 40;
const mostBins = 15 * 60 * 50;
/** Two sensors' readings of one current are alike to this. */
const leastAlike = 0.95;
/** A second place that fits this nearly as well leaves it open which is right. */
const clearBy = 0.02;
const sameplaceS: Seconds = 0.5;

export type Alignment =
  /** A time of the machine's recording plus `lagS` is one of the outlet's. */
  { by: 'time' | 'current'; lagS: Seconds } | { by: null; why: 'no-arc' | 'unlike' | 'ambiguous' };

/** By what both clocks say; where one says nothing, by the shape of the current. */
export function align(outlet: EndStream, machine: EndStream): Alignment {
  if (outlet.arcs.length === 0 || machine.arcs.length === 0) return { by: null, why: 'no-arc' };
  if (outlet.startedAt !== null && machine.startedAt !== null)
    return { by: 'time', lagS: (machine.startedAt - outlet.startedAt) / 1e6 };
  const [best, next] = places(outlet, machine);
  if (!best || best.alike < leastAlike) return { by: null, why: 'unlike' };
  if (next && best.score - next.score < clearBy) return { by: null, why: 'ambiguous' };
  return { by: 'current', lagS: best.lagS };
}

interface Place {
  lagS: Seconds;
  /** Correlation where both have samples. */
  alike: number;
  /** The same, with what the other does not cover counted as unlike. */
  score: number;
}

/** Best first; a weld's strike in one is tried on every strike in the other. */
function places(outlet: EndStream, machine: EndStream): Place[] {
  const found: Place[] = [];
  for (const there of outlet.arcs.slice(0, mostArcs))
    for (const here of machine.arcs.slice(0, mostArcs)) {
      const lagS = there.arc.startS - here.arc.startS;
      if (found.some((place) => Math.abs(place.lagS - lagS) < binS)) continue;
      found.push(place(outlet.amps, machine.amps, lagS));
    }
  found.sort((a, b) => b.score - a.score);
  const [best] = found;
  return found.filter((each) => each === best || Math.abs(each.lagS - best!.lagS) > sameplaceS);
}

function place(outlet: ArrayLike<number>, machine: ArrayLike<number>, lagS: Seconds): Place {
  const shift = Math.round(lagS / binS);
  const [from, to] = [
    Math.max(0, shift),
    Math.min(mostBins, outlet.length, machine.length + shift),
  ];
  let [both, ofOutlet, ofMachine] = [0, 0, 0];
  for (let bin = from; bin < to; bin++) {
    const [a, b] = [outlet[bin]!, machine[bin - shift]!];
    both += a * b;
    ofOutlet += a * a;
    ofMachine += b * b;
  }
  const whole = Math.sqrt(energy(outlet) * energy(machine));
  const overlap = Math.sqrt(ofOutlet * ofMachine);
  return {
    lagS,
    alike: overlap > 0 ? both / overlap : 0,
    score: whole > 0 ? both / whole : 0,
  };
}

function energy(amps: ArrayLike<number>): number {
  let sum = 0;
  for (let bin = 0; bin < Math.min(amps.length, mostBins); bin++) sum += amps[bin]! ** 2;
  return sum;
}
