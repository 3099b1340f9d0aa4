import type { PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Ohms, Volts } from '../units.ts';
import { type CordOhms, cordOhms } from './cord-drop.ts';
import type { Setting, SupplyEvidence, SupplyView } from './facts.ts';
import type { Reading } from './finding.ts';
import { limits } from './limits.ts';
import { machineVolts } from './wiring.ts';

type Behaviour = SupplyEvidence['behaviour'];

/**
 * Volts of one loop with `amps` drawn at `ratedVolts`. The plate's I1max holds at U1: a machine of
 * constant power draws more where the voltage is lower, a constant impedance less. 0 where the
 * supply cannot carry the load at all.
 *
 * Along the load's angle the drop per ampere is k = f·(R cosφ + X sinφ), f the fundamental's share
 * of the current (only the fundamental meets R + jX at full; W13 of the worked examples bounds the
 * error of leaving out the cross drop at 0.3 % of the drop).
 */
export function loadedVolts(
  view: Pick<SupplyView, 'openVolts' | 'ohmsR' | 'ohmsX' | 'lagRadians' | 'fundamentalShare'>,
  amps: Amperes,
  ratedVolts: Volts,
  behaviour: Behaviour,
): Volts {
  return voltsBehind(view.openVolts, dropPerAmp(view, view.ohmsR), amps, ratedVolts, behaviour);
}

type Angled = Pick<SupplyView, 'ohmsX' | 'lagRadians' | 'fundamentalShare'>;

const dropPerAmp = ({ ohmsX, lagRadians, fundamentalShare }: Angled, ohmsR: Ohms): Ohms =>
  Math.max(0, fundamentalShare * (ohmsR * Math.cos(lagRadians) + ohmsX * Math.sin(lagRadians)));

function voltsBehind(
  open: Volts,
  perAmp: Ohms,
  amps: Amperes,
  ratedVolts: Volts,
  behaviour: Behaviour,
): Volts {
  if (behaviour === 'constant-impedance') return open / (1 + (perAmp * amps) / ratedVolts);
  if (behaviour === 'unknown') return Math.max(0, open - perAmp * amps);
  // V = E − k·S/V with S = U1·I1max: V² − E·V + k·S = 0, upper root (W14).
  const under = open * open - 4 * perAmp * ratedVolts * amps;
  return under < 0 ? 0 : (open + Math.sqrt(under)) / 2;
}

/** Ohms added between the supply that was seen and the machine. */
interface Added {
  taken: Ohms;
  lo: Ohms;
  hi: Ohms;
}

/**
 * Voltage at the machine at the plate's full current, with its 95 % interval; cords that the
 * sensor did not see are added. `extra` replaces those cords (to try others). Null where a loop's
 * supply is unknown.
 */
export function fullLoadVolts(
  setting: Setting,
  rated: PlateSupply,
  supply: SupplyEvidence,
  extra: CordOhms = cordOhms(setting),
): Reading | null {
  const added: Added = { taken: extra.ohms, lo: extra.lo, hi: extra.hi };
  const amps = rated.I1max * setting.ampsPerLine;
  const loops: Reading[] = [];
  for (const view of supply.pairs) {
    if (view === null) return null;
    loops.push(loopReading(view, amps, rated.U1, supply.behaviour, added));
  }
  if (loops.length === 0) return null;
  return asOne(loops, setting);
}

/** The worst of the loops is the machine's, with the error of the sensor. */
function asOne(loops: readonly Reading[], setting: Setting): Reading {
  const together = (pick: (each: Reading) => number) => machineVolts(loops.map(pick));
  const value = together((each) => each.value);
  // The sensor's own error shifts all voltages alike, whatever the estimate's interval.
  const sensor = setting.accuracy.volts * value;
  return {
    value,
    lo: Math.max(0, value - Math.hypot(value - together((each) => each.lo), sensor)),
    hi: value + Math.hypot(together((each) => each.hi) - value, sensor),
  };
}

/** What of a machine's behaviour is unknown widens the interval downward to constant power. */
function loopReading(
  view: SupplyView,
  amps: Amperes,
  ratedVolts: Volts,
  behaviour: Behaviour,
  added: Added,
): Reading {
  const worse = behaviour === 'unknown' ? 'constant-power' : behaviour;
  const low: Load = { amps, ratedVolts, behaviour: worse };
  const high: Load = { amps, ratedVolts, behaviour };
  const at = (open: Volts, ohms: Ohms, load: Load) =>
    voltsBehind(
      open,
      dropPerAmp(view, view.ohmsR + ohms),
      load.amps,
      load.ratedVolts,
      load.behaviour,
    );
  const hot = added.hi + warmth(view);
  return {
    value: at(view.openVolts, added.taken, high),
    lo: Math.max(0, at(lowOpen(view), hot, low) - halfWidth(view, hot, low)),
    hi: at(view.openVolts, added.lo, high) + halfWidth(view, added.lo, high),
  };
}

/** What full load adds to a measured resistance as the wire warms; a described one has it. */
const warmth = (view: SupplyView): Ohms =>
  view.largestStepAmps === null ? 0 : limits.warmWire.value * Math.max(0, view.ohmsR);

/** The lowest open-circuit voltage beside the arcs, where it lies under what the scatter allows. */
function lowOpen(view: SupplyView): Volts {
  if (view.openVoltsLow === undefined) return view.openVolts;
  return Math.min(view.openVolts, view.openVoltsLow + view.coverage * view.openVoltsSd);
}

/** Lower end of the voltage at the sensor with `amps` drawn, by the estimate as it is. */
export function leastVoltsAt(view: SupplyView, amps: Amperes): Volts {
  const load: Load = { amps, ratedVolts: 1, behaviour: 'unknown' };
  const volts = voltsBehind(lowOpen(view), dropPerAmp(view, view.ohmsR), amps, 1, 'unknown');
  return volts - halfWidth(view, 0, load);
}

interface Load {
  amps: Amperes;
  ratedVolts: Volts;
  behaviour: Behaviour;
}

/**
 * First-order spread (JCGM 100, 5.1.2) of E, R and X, slopes by differences. R and X act through
 * the drop per ampere alone. Nothing is allocated: a plan asks this many thousand times.
 */
function halfWidth(view: SupplyView, ohms: Ohms, { amps, ratedVolts, behaviour }: Load): Volts {
  const step = 1e-4;
  const open = view.openVolts;
  const perAmp = dropPerAmp(view, view.ohmsR + ohms);
  const volts = (e: Volts, k: Ohms) => voltsBehind(e, k, amps, ratedVolts, behaviour);
  const byOpen = (volts(open + step, perAmp) - volts(open - step, perAmp)) / (2 * step);
  const less = Math.max(0, perAmp - step);
  const byPerAmp = (volts(open, perAmp + step) - volts(open, less)) / (perAmp + step - less);
  const byR = byPerAmp * view.fundamentalShare * Math.cos(view.lagRadians);
  const byX = byPerAmp * view.fundamentalShare * Math.sin(view.lagRadians);
  const variance =
    (byOpen * view.openVoltsSd) ** 2 +
    byR * byR * view.varianceR +
    byX * byX * view.varianceX +
    2 * byR * byX * view.covarianceRX;
  return view.coverage * Math.sqrt(Math.max(0, variance));
}
