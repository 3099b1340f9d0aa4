import type { Arc } from '../protocol/judgement.ts';
import type { CheckBead, CheckWant } from '../protocol/outlet-check.ts';
import type { Amperes, Seconds, Volts } from '../units.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { limits } from './limits.ts';
import { checkLimits } from './outlet-check-limits.ts';
import { machineVolts } from './wiring.ts';
import { amps, percent, seconds, volts } from './words.ts';

/** A run of readings with nothing switching; begins anew when something does. */
export interface QuietRun {
  forS: Seconds;
  /** Time-weighted mean between the machine's terminals, V. */
  volts: Volts;
  amps: Amperes;
  /** The jump that ended the run before this one, V; null where there was none. */
  jump: Volts | null;
}

export interface Reading {
  /** Length of time that it stands for. */
  spanS: Seconds;
  /** R.m.s., one entry a pair. */
  volts: readonly Volts[];
  amps: readonly Amperes[];
}

export function withReading(run: QuietRun | null, reading: Reading, perPair: number): QuietRun {
  const now = machineVolts(reading.volts, perPair);
  const load = Math.max(...reading.amps);
  if (run === null) return { forS: reading.spanS, volts: now, amps: load, jump: null };
  const moved = now - run.volts;
  const switched =
    Math.abs(moved) > checkLimits.steadyPart * run.volts ||
    Math.abs(load - run.amps) > checkLimits.nothingAmps;
  if (switched) return { forS: reading.spanS, volts: now, amps: load, jump: moved };
  const forS = run.forS + reading.spanS;
  const part = forS > 0 ? reading.spanS / forS : 1;
  return {
    forS,
    volts: run.volts + part * moved,
    amps: run.amps + part * (load - run.amps),
    jump: run.jump,
  };
}

const want = (
  id: CheckWant['id'],
  enough: boolean,
  says: string,
  doNow: string,
  needed = true,
): CheckWant => ({ id, enough, says, doNow: enough ? null : doNow, needed });

/** Nothing plugged in. */
export function noLoadWants(run: QuietRun | null): CheckWant[] {
  const load = run?.amps ?? 0;
  return [
    ...aliveWants(run),
    want(
      'nothing-draws',
      run !== null && load <= checkLimits.nothingAmps,
      run === null ? 'No current was read yet.' : `${amps(load)} flow.`,
      'Unplug whatever is in this outlet.',
    ),
    steadyWant(run),
  ];
}

/** The machine plugged in, on, and not welding. */
export const idleWants = (run: QuietRun | null): CheckWant[] => [
  ...aliveWants(run),
  steadyWant(run),
];

function aliveWants(run: QuietRun | null): CheckWant[] {
  const alive = run !== null && run.volts > checkLimits.aliveVolts;
  const says = run === null ? 'No voltage was read yet.' : `${volts(run.volts)} at the outlet.`;
  return [
    want('alive', alive, says, 'Look at the breaker, and whether the sensor is on this outlet.'),
  ];
}

function steadyWant(run: QuietRun | null): CheckWant {
  const left = checkLimits.steadyS - (run?.forS ?? 0);
  const enough = run !== null && left <= 1e-9;
  const jumped = run?.jump ?? null;
  if (enough) return want('steady', true, `Steady for ${seconds(run.forS)}.`, '');
  const wait = `${seconds(left)} more of steady voltage.`;
  if (jumped === null) return want('steady', false, wait, 'Wait: touch nothing for some seconds.');
  const says = `The voltage moved by ${volts(Math.abs(jumped))}: something switched. ${wait}`;
  return want('steady', false, says, 'Unplug the compressor, or whatever else runs here; wait.');
}

/** A bead, whole or so far. */
export interface BeadEvidence {
  arc: Arc;
  supply: SupplyEvidence;
  burning: boolean;
}

export function beadOf({ arc }: BeadEvidence, setting: Setting): CheckBead {
  const load = Math.max(...arc.channels.map(({ maxAmps200ms }) => maxAmps200ms));
  return {
    startS: arc.startS,
    endS: arc.endS,
    amps: load,
    leastVolts: machineVolts(
      arc.channels.map(({ minVolts200ms }) => minVolts200ms),
      setting.perPair,
    ),
    shareOfFull: setting.rated === null ? null : load / setting.rated.I1max,
    verdict: arc.verdict,
  };
}

/** `least` is the part of the plate's full current that the bead must reach. */
export function beadWants(bead: BeadEvidence | null, setting: Setting, least: number): CheckWant[] {
  const none = 'No bead yet.';
  if (bead === null)
    return (['long', 'heavy', 'whole', 'estimated'] as const).map((id) =>
      want(id, false, none, 'Weld a bead on a coupon.'),
    );
  const { arc } = bead;
  const lost = arc.lostFraction;
  return [
    want(
      'long',
      arc.durationS >= checkLimits.beadS,
      `The bead ${bead.burning ? 'is' : 'was'} ${seconds(arc.durationS)} long; ` +
        `${seconds(checkLimits.beadS)} are needed.`,
      bead.burning ? 'Keep welding.' : 'Weld a longer bead.',
    ),
    heavyWant(bead, setting, least),
    want(
      'whole',
      lost <= limits.lostShare.value,
      `${percent(lost, 0)} of its samples were lost on the way.`,
      "Bring the sensor nearer to the shop's network, and weld again.",
    ),
    estimatedWant(bead),
    quietWant(bead),
  ];
}

function heavyWant(bead: BeadEvidence, setting: Setting, least: number): CheckWant {
  const { amps: load, shareOfFull } = beadOf(bead, setting);
  if (shareOfFull === null) return want('heavy', true, `${amps(load)} drawn.`, '');
  const says =
    `${amps(load)} drawn, ${percent(shareOfFull, 0)} of the plate's full current; ` +
    `${percent(least, 0)} are needed.`;
  return want('heavy', shareOfFull >= least, says, 'Set the machine heavier and weld again.');
}

/** An estimate for every pair, and no doubt of the full load beside too light a bead. */
function estimatedWant({ arc, supply, burning }: BeadEvidence): CheckWant {
  const known = supply.pairs.length > 0 && supply.pairs.every((view) => view !== null);
  if (known) return want('estimated', true, 'The supply is estimated.', '');
  const says = 'What full load would do is not proven yet.';
  const other = sawOtherLoad(arc);
  const doNow = other
    ? 'Unplug the compressor, or whatever else runs here, and weld again.'
    : burning
      ? 'Keep welding; the end of the bead counts too.'
      : 'Weld again, longer and heavier, with pauses of some seconds.';
  return want('estimated', false, says, doNow);
}

/** Advice: where a neighbour cannot be switched off the outlet is judged with it. */
function quietWant({ arc }: BeadEvidence): CheckWant {
  const seen = sawOtherLoad(arc);
  const says = seen ? `${seen.says}` : 'Nothing else was seen to switch.';
  const doNow = 'Unplug the compressor, or whatever else runs here, and weld again.';
  return want('quiet', seen === undefined, says, doNow, false);
}

const sawOtherLoad = (arc: Arc) =>
  arc.findings.find(
    ({ rule, verdict }) =>
      rule === 'other-load' && (verdict === 'marginal' || verdict === 'underpowered'),
  );
