import type { Arc } from '../protocol/judgement.ts';
import type { DropSplit, SplitDoubt } from '../protocol/split.ts';
import type { Amperes, Fraction, Seconds, Volts } from '../units.ts';
import { mostAmps } from './at-machine.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import type { Reading } from './finding.ts';
import { limits } from './limits.ts';
import { loopChannels } from './loops.ts';
import { fullLoadSplit, type PartOfBuilding, shareOf } from './split-full-load.ts';
import { splitLimits } from './split-limits.ts';
import { machineVolts } from './wiring.ts';

/** One weld as one sensor saw it; both ends count their seconds from the same moment. */
export interface EndSeen {
  startS: Seconds;
  endS: Seconds;
  arc: Pick<Arc, 'channels' | 'between' | 'lostFraction'>;
  supply: SupplyEvidence | null;
}

/** How much of the longer of two arcs both cover, 0 … 1. */
export function overlapOf(a: Omit<EndSeen, 'arc' | 'supply'>, b: typeof a): Fraction {
  const longer = Math.max(a.endS - a.startS, b.endS - b.startS);
  const both = Math.min(a.endS, b.endS) - Math.max(a.startS, b.startS);
  return longer > 0 ? Math.max(0, both / longer) : 0;
}

/** Whether the two are one weld seen twice, as far as the evidence goes. */
export const isOneWeld = ({ doubt }: DropSplit): boolean =>
  doubt === null || doubt.kind === 'lost' || doubt.kind === 'no-idle';

/**
 * Splits the fall of the voltage under a weld into the building's share and the cord's. What each
 * sensor's voltage fell by, from idle to arc, is compared and not the voltages themselves: a ratio
 * error of 0.5 % is then that part of the fall, and not of all the volts. `setting` is the
 * machine's end's.
 */
export function splitDrop(setting: Setting, outlet: EndSeen, machine: EndSeen): DropSplit {
  const doubt = (kind: SplitDoubt, out: number | null = null, at: number | null = null) => ({
    doubt: { kind, outlet: out, machine: at },
    ...{ atArc: null, atFullLoad: null },
  });
  if (outlet.arc.channels.length !== machine.arc.channels.length)
    return doubt('pairs', outlet.arc.channels.length, machine.arc.channels.length);
  if (overlapOf(outlet, machine) < splitLimits.overlap) return doubt('no-overlap');
  if (Math.max(outlet.arc.lostFraction, machine.arc.lostFraction) > limits.lostShare.value)
    return doubt('lost', outlet.arc.lostFraction, machine.arc.lostFraction);
  const apart = currentsApart(setting, outlet, machine);
  if (apart !== null) return doubt('currents', ...apart);
  const [above, below] = [fallAt(setting, outlet), fallAt(setting, machine)];
  if (above === null || below === null) return doubt('no-idle');
  if (!isOneCircuit(setting, above.idle, below.idle))
    return doubt('idle-volts', above.idle, below.idle);
  const cord = cordFall(setting, above, below);
  if (cord.hi < 0) return doubt('swapped', above.fall, below.fall);
  const building = buildingFall(setting, above);
  const atArc = {
    amps: mostAmps(setting, loopChannels(setting, machine.arc).map(loadOf)),
    openVolts: below.idle,
    building: shareOf(building, below.idle),
    cord: shareOf(cord, below.idle),
    leftVolts: below.idle - below.fall,
  };
  const atFullLoad = fullLoadSplit(setting, outlet.supply, machine.supply, partOf(building, cord));
  return { doubt: null, atArc, atFullLoad };
}

const loadOf = ({ meanVolts, meanAmps, meanWatts }: Arc['channels'][number]) => ({
  volts: meanVolts,
  amps: meanAmps,
  watts: meanWatts,
});

/** Of the pair that disagrees first, the two currents; null where they are one. */
function currentsApart(
  { accuracy }: Setting,
  outlet: EndSeen,
  machine: EndSeen,
): [Amperes, Amperes] | null {
  for (const [pair, { meanAmps: here }] of machine.arc.channels.entries()) {
    const there = outlet.arc.channels[pair]!.meanAmps;
    const allowed = (here + there) * accuracy.amps + splitLimits.currentAmps;
    if (Math.abs(here - there) > allowed) return [there, here];
  }
  return null;
}

interface Fall {
  idle: Volts;
  fall: Volts;
}

/** Between the machine's terminals; null where the idle voltage before the arc was not seen. */
function fallAt(setting: Setting, { arc }: EndSeen): Fall | null {
  const loops = loopChannels(setting, arc);
  const idle = loops.map(({ idleVolts }) => idleVolts);
  if (idle.length === 0 || idle.includes(null)) return null;
  const before = machineVolts(idle as Volts[]);
  const mean = machineVolts(loops.map(({ meanVolts }) => meanVolts));
  return { idle: before, fall: before - mean };
}

/** An idle machine draws next to nothing: both ends of one cord then have one voltage. */
function isOneCircuit({ accuracy }: Setting, outlet: Volts, machine: Volts): boolean {
  const sensors = (outlet + machine) * accuracy.volts;
  const over = machine - outlet;
  return over <= sensors && -over <= sensors + splitLimits.idlePart * outlet;
}

/** What both saw alike, the supply's own wander with it, falls out of the difference. */
function cordFall({ accuracy }: Setting, above: Fall, below: Fall): Reading {
  const value = below.fall - above.fall;
  const half = Math.hypot(
    accuracy.volts * above.fall,
    accuracy.volts * below.fall,
    splitLimits.windowPart * below.idle,
  );
  return { value, lo: value - half, hi: value + half };
}

/** The supply's own wander, from before the arc to its middle, cannot be told from a fall. */
function buildingFall({ accuracy }: Setting, { idle, fall }: Fall): Reading {
  const half = Math.hypot(accuracy.volts * fall, splitLimits.wanderPart * idle);
  return { value: fall, lo: fall - half, hi: fall + half };
}

/** The building's part of the fall, with its half-width; null where next to nothing fell. */
function partOf(building: Reading, cord: Reading): PartOfBuilding | null {
  const total = building.value + cord.value;
  if (total <= 0 || building.value < 0) return null;
  const [b, c] = [building.hi - building.value, cord.hi - cord.value];
  // b/(b + c): by each of the two, first order (JCGM 100, 5.1.2).
  const half = Math.hypot(b * Math.max(0, cord.value), c * building.value) / total ** 2;
  return { value: Math.min(1, building.value / total), half };
}
