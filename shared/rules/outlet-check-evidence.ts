import type { Arc } from '../protocol/judgement.ts';
import type { CheckBead, CheckWant } from '../protocol/outlet-check.ts';
import type { Amperes, Seconds, Volts } from '../units.ts';
import { mostAmps } from './at-machine.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { limits } from './limits.ts';
import { loopChannels, readingVolts } from './loops.ts';
import { checkLimits } from './outlet-check-limits.ts';
import { type Said, saidBy, say } from './say.ts';
import { machineVolts } from './wiring.ts';

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

export function withReading(run: QuietRun | null, reading: Reading, setting: Setting): QuietRun {
  const now = machineVolts(readingVolts(setting, reading.volts));
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
  said: Said,
  doNow: Said | null,
  needed = true,
): CheckWant => ({ id, enough, ...said, doNow: enough ? null : (doNow?.says ?? null), needed });

/** Nothing plugged in: at the outlet, or at the end of the cord where the sensor is there. */
export function noLoadWants(run: QuietRun | null, setting: Setting): CheckWant[] {
  const unplug = say(atMachine(setting) ? 'unplugMachine' : 'unplugAll');
  return [aliveWant(run), nothingDrawsWant(run, unplug), steadyWant(run)];
}

export const atMachine = ({ circuit }: Setting): boolean => circuit?.sensorAt === 'machine';

function nothingDrawsWant(run: QuietRun | null, unplug: Said): CheckWant {
  if (run === null) return want('nothing-draws', false, say('noCurrentYet'), null);
  const none = run.amps <= checkLimits.nothingAmps;
  const told = say(none ? 'nothingFlows' : 'currentFlows', { flowing: run.amps });
  return want('nothing-draws', none, told, unplug);
}

/** The machine plugged in, on, and not welding. */
export const idleWants = (run: QuietRun | null, noLoad: QuietRun | null): CheckWant[] => [
  aliveWant(run),
  steadyWant(run),
  machineOnWant(run, noLoad),
];

/** Advice: some machines draw next to nothing while they wait. */
function machineOnWant(run: QuietRun | null, noLoad: QuietRun | null): CheckWant {
  const more = (run?.amps ?? 0) - (noLoad?.amps ?? 0);
  if (more >= checkLimits.idleAmps)
    return want('machine-on', true, say('machineOn', { more }), null, false);
  const told = say(run === null ? 'noCurrentYet' : 'machineOff');
  return want('machine-on', false, told, say('switchOn'), false);
}

function aliveWant(run: QuietRun | null): CheckWant {
  if (run === null) return want('alive', false, say('noVoltageYet'), say('awaitReading'));
  const alive = run.volts > checkLimits.aliveVolts;
  return want('alive', alive, say('voltageThere', { there: run.volts }), say('lookAtBreaker'));
}

function steadyWant(run: QuietRun | null): CheckWant {
  const left = checkLimits.steadyS - (run?.forS ?? 0);
  const enough = run !== null && left <= 1e-9;
  if (enough) return want('steady', true, say('steady', { forS: run.forS }), null);
  const jumped = run?.jump ?? null;
  const moved = jumped === null ? null : Math.abs(jumped);
  const doNow = say(jumped === null ? 'waitTouchNothing' : 'unplugOthersWait');
  return want('steady', false, say('steadyMore', { leftS: left, moved }), doNow);
}

/** A bead, whole or so far. */
export interface BeadEvidence {
  arc: Arc;
  supply: SupplyEvidence;
  burning: boolean;
}

export function beadOf({ arc }: BeadEvidence, setting: Setting): CheckBead {
  const loops = loopChannels(setting, arc);
  const load = mostAmps(
    setting,
    loops.map(({ maxAmps200ms: amps }) => ({ amps })),
  );
  return {
    startS: arc.startS,
    endS: arc.endS,
    amps: load,
    leastVolts: machineVolts(loops.map(({ minVolts200ms }) => minVolts200ms)),
    shareOfFull: setting.rated === null ? null : load / setting.rated.I1max,
    verdict: arc.verdict,
  };
}

/** `least` is the part of the plate's full current that the bead must reach. */
export function beadWants(bead: BeadEvidence | null, setting: Setting, least: number): CheckWant[] {
  if (bead === null) return noBeadWants(setting, least);
  const { arc } = bead;
  const lost = arc.lostFraction;
  return [
    want(
      'long',
      arc.durationS >= checkLimits.beadS,
      say('beadLong', {
        ...{ longS: arc.durationS, leastS: checkLimits.beadS, burning: bead.burning },
      }),
      say(bead.burning ? 'keepWelding' : 'weldLonger'),
    ),
    heavyWant(bead, setting, least),
    want(
      'whole',
      lost <= limits.lostShare.value,
      lost > 0 ? say('beadLost', { part: lost }) : say('beadWhole'),
      say('nearerToNetwork'),
    ),
    estimatedWant(bead, setting, least),
    quietWant(bead),
  ];
}

/** Before a bead: what it will have to be. That it is to be welded is said once. */
function noBeadWants({ rated }: Setting, least: number): CheckWant[] {
  const heavy = rated && say('wantHeavy', { part: least, least: least * rated.I1max });
  return [
    want('long', false, say('wantLong', { leastS: checkLimits.beadS }), say('weldBead')),
    ...(heavy ? [want('heavy', false, heavy, null)] : []),
    want('whole', false, say('wantWhole'), null),
    want('estimated', false, say('wantFullLoad'), null),
  ];
}

function heavyWant(bead: BeadEvidence, setting: Setting, least: number): CheckWant {
  const { amps: drawn, shareOfFull: part } = beadOf(bead, setting);
  if (part === null) return want('heavy', true, say('beadDrew', { drawn }), null);
  const told = say('beadDrewPart', { drawn, part, least });
  return want('heavy', part >= least, told, say('weldHeavier'));
}

/** An estimate for every loop, and no doubt of the full load beside too light a bead. */
function estimatedWant(bead: BeadEvidence, setting: Setting, least: number): CheckWant {
  const { arc, supply, burning } = bead;
  const known = supply.pairs.length > 0 && supply.pairs.every((view) => view !== null);
  const full = arc.findings.find(({ rule }) => rule === 'full-load');
  const { shareOfFull } = beadOf(bead, setting);
  // That a bead is too light is said once.
  const doubted = full?.verdict === 'unproven' && shareOfFull !== null && shareOfFull >= least;
  if (known && full && doubted)
    return want(
      ...(['estimated', false, saidBy(full)] as const),
      say(burning ? 'keepWeldingToEnd' : 'weldWithPauses'),
    );
  if (known) return want('estimated', true, say('supplyEstimated'), null);
  const doNow = sawOtherLoad(arc)
    ? 'unplugOthersWeld'
    : burning
      ? 'keepWeldingToEnd'
      : 'weldWithPauses';
  return want('estimated', false, say('fullLoadNotYet'), say(doNow));
}

/** Advice: where a neighbour cannot be switched off the outlet is judged with it. */
function quietWant({ arc }: BeadEvidence): CheckWant {
  const seen = sawOtherLoad(arc);
  const told = seen ? saidBy(seen) : say('noOther');
  return want('quiet', seen === undefined, told, say('unplugOthersWeld'), false);
}

const sawOtherLoad = (arc: Arc) =>
  arc.findings.find(
    ({ rule, verdict }) =>
      rule === 'other-load' && (verdict === 'marginal' || verdict === 'underpowered'),
  );
