import type { Circuit } from '../protocol/circuit.ts';
import type { Plate, PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Volts } from '../units.ts';
import { limits } from './limits.ts';
import { ratedLine } from './rated-line.ts';
import { leastAmpacity } from './welder-ampacity.ts';

/** A machine as its feeder sees it: by the line of its plate that asks most on a circuit there. */
export interface Member {
  machine: string;
  phases: 1 | 3;
  effectiveAmps: Amperes;
  fullAmps: Amperes;
  /** Least volts of the feeder's at which its circuit gives U1 − 10 %, before branch and cords. */
  needsVolts: Volts;
}

/** The group that a feeder may have to carry, by each of the two counts; largest first. */
export interface Group {
  byEffective: readonly Member[];
  byFull: readonly Member[];
}

/**
 * One machine a circuit, and of all ways to plug them in the one that asks most. Circuits and
 * machines are matched, largest machine first: what can be matched is a matroid, so each next
 * one is the largest that it can be, and one more machine never makes the group ask less.
 */
export function groupOn(
  feederVolts: Volts,
  circuits: readonly Circuit[],
  plates: readonly Plate[],
): Group {
  const candidates = plates.map((plate) => {
    const places = circuits.map((circuit) => memberOn(feederVolts, circuit, plate));
    return { fits: places.flatMap((each, at) => (each ? [at] : [])), places };
  });
  const most = (of: (member: Member) => Amperes) =>
    matched(
      candidates
        .flatMap(({ fits, places }) => {
          const worst = worstOf(places, of);
          return worst === null ? [] : [{ fits, worst }];
        })
        .sort((a, b) => of(b.worst) - of(a.worst)),
      circuits.length,
    );
  return {
    byEffective: most(({ effectiveAmps }) => effectiveAmps),
    byFull: most(({ fullAmps }) => fullAmps),
  };
}

/** Null where the machine does not suit the circuit: another class of voltage, too few phases. */
function memberOn(feederVolts: Volts, circuit: Circuit, plate: Plate): Member | null {
  const rated = ratedLine(plate.supply, circuit.volts);
  if (rated === null || !suits(rated, circuit)) return null;
  if (plate.phases === 3 && circuit.phases !== 3) return null;
  return {
    machine: plate.name,
    phases: plate.phases,
    effectiveAmps: leastAmpacity(rated, plate.ratings),
    fullAmps: rated.I1max,
    needsVolts: (limits.plateLow.value * rated.U1 * feederVolts) / circuit.volts,
  };
}

const suits = ({ U1 }: PlateSupply, { volts }: Circuit): boolean =>
  Math.abs(volts / U1 - 1) <= limits.classFar.value + 1e-9;

/** Of a machine on each circuit that it suits, what asks most, and needs the most volts. */
function worstOf(
  places: readonly (Member | null)[],
  of: (member: Member) => Amperes,
): Member | null {
  const fit = places.filter((each) => each !== null);
  const [first, ...rest] = fit;
  if (first === undefined) return null;
  const worst = rest.reduce((most, each) => (of(each) > of(most) ? each : most), first);
  return { ...worst, needsVolts: Math.max(...fit.map(({ needsVolts }) => needsVolts)) };
}

/** Those that find a circuit of their own, in the order given (augmenting paths, Kuhn 1955). */
function matched(
  candidates: readonly { fits: readonly number[]; worst: Member }[],
  circuits: number,
): Member[] {
  const holder = new Array<number>(circuits).fill(-1);
  const place = (candidate: number, tried: Set<number>): boolean =>
    candidates[candidate]!.fits.some((circuit) => {
      if (tried.has(circuit)) return false;
      tried.add(circuit);
      const other = holder[circuit]!;
      if (other !== -1 && !place(other, tried)) return false;
      holder[circuit] = candidate;
      return true;
    });
  return candidates.flatMap(({ worst }, at) => (place(at, new Set()) ? [worst] : []));
}
