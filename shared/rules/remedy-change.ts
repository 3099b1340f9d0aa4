import type { PlannedCircuit } from '../protocol/planning.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Change } from '../protocol/remedy.ts';
import type { Volts } from '../units.ts';
import type { Setting, SupplyEvidence, SupplyView } from './facts.ts';
import { limits } from './limits.ts';
import { wiresInLoop } from './loops.ts';
import { plannedSupply } from './planned-supply.ts';
import { ratedLine } from './rated-line.ts';
import type { Said } from './say.ts';
import { runOhms } from './wire.ts';
import { nearestNominal } from './wiring.ts';

/** A machine on a supply, as a remedy finds or leaves it. */
export interface Case {
  setting: Setting;
  supply: SupplyEvidence;
  /** Between the machine's terminals; null where the circuit was only described. */
  openVolts: Volts | null;
}

/** A change that may be worth making, in a word or two. */
export interface Proposal extends Said {
  change: Change;
}

/** True when with this change the machine gets what it needs. */
export type Passes = (change: Change) => boolean;

/** Copper of cords and branches where one is taken for another, and what it may be off by. */
const celsius = { cord: 40, branch: 50 } as const;
/** Standard uncertainty of R, part of it, where the same wires get another voltage. Our choice. */
const otherInputSd = 0.25;
/** Drop of a boosting transformer of its own at full current, part of U1, and its uncertainty. */
const transformerDrop = { value: 0.02, sd: 0.01 } as const;

/** The case after a change; null where it makes no sense there (no wire known, no such circuit). */
export function applyChange(
  at: Case,
  change: Change,
  circuits: readonly PlannedCircuit[] = [],
): Case | null {
  const { setting } = at;
  const { circuit, rated } = setting;
  switch (change.kind) {
    case 'cords': {
      if (circuit === null) return null;
      const bare = atOutlet(at);
      const changed = { ...bare.setting.circuit!, cords: change.cords };
      return { ...bare, setting: { ...bare.setting, circuit: changed } };
    }
    case 'setting':
      return rated && withRated(at, scaled(rated, change.inputAmps / rated.I1max));
    case 'duty':
      return rated && withRated(at, { ...rated, I1eff: rated.I1max * Math.sqrt(change.share) });
    case 'circuit':
      return onCircuit(
        at,
        circuits.find(({ name }) => name === change.name),
      );
    case 'branch':
      return rewired(at, change.branch);
    case 'dedicated':
      return { ...boosted(at, (volts) => volts + change.volts), setting: dedicated(setting) };
    case 'input':
      return otherInput(at, change.U1);
    case 'tap':
      return tapped(at, change.ratio);
    case 'transformer':
      return transformed(at, change.ratio);
  }
}

const withRated = (at: Case, rated: PlateSupply): Case => ({
  ...at,
  setting: { ...at.setting, rated },
});

const scaled = (rated: PlateSupply, part: number): PlateSupply => ({
  ...rated,
  I1max: rated.I1max * part,
  ...(rated.I1eff === undefined ? {} : { I1eff: rated.I1eff * part }),
});

const dedicated = (setting: Setting): Setting => ({
  ...setting,
  circuit: setting.circuit && { ...setting.circuit, dedicated: true },
});

/** What a sensor at the machine saw, less the cords that it saw with it. */
export function atOutlet(at: Case): Case {
  const { circuit } = at.setting;
  if (circuit === null || circuit.sensorAt !== 'machine') return at;
  const run = (circuit.cords ?? []).reduce(
    (sum, cord) => sum + runOhms(cord, 'flexible', celsius.cord),
    0,
  );
  const ohms = wiresInLoop(at.setting) * run;
  return {
    ...at,
    setting: { ...at.setting, circuit: { ...circuit, sensorAt: 'outlet' } },
    supply: eachView(at.supply, (view) => ({ ...view, ohmsR: Math.max(0, view.ohmsR - ohms) })),
  };
}

function onCircuit(at: Case, other: PlannedCircuit | undefined): Case | null {
  const { plate } = at.setting;
  if (other === undefined || plate === null) return null;
  const { setting, evidence, openVolts } = plannedSupply(other, plate.phases === 3);
  const rated = ratedLine(plate.supply, openVolts ?? other.volts);
  const nominal = { nominalVolts: other.volts, nominalHertz: other.hertz ?? null };
  return { setting: { ...at.setting, ...setting, ...nominal, rated }, supply: evidence, openVolts };
}

/** No better than the new wire alone, whatever was measured. */
function rewired(at: Case, branch: NonNullable<PlannedCircuit['branch']>): Case | null {
  const { circuit } = at.setting;
  if (!circuit?.branch) return null;
  const ohms = (of: typeof branch) =>
    wiresInLoop(at.setting) * runOhms(of, 'fixed', celsius.branch);
  const after = ohms(branch);
  const less = ohms(circuit.branch) - after;
  return {
    ...at,
    setting: { ...at.setting, circuit: { ...circuit, branch } },
    supply: eachView(at.supply, (view) => ({
      ...view,
      ohmsR: Math.max(Math.min(after, view.ohmsR), view.ohmsR - less),
    })),
  };
}

/** What the place has now: as described, or as measured where that is another class. */
function classOf({ setting: { circuit }, openVolts }: Case, ratedVolts: Volts): Volts {
  const said = circuit?.volts ?? ratedVolts;
  if (openVolts === null || Math.abs(openVolts / said - 1) <= limits.classFar.value) return said;
  return nearestNominal(openVolts) ?? openVolts;
}

/** The ohms of a loop stay about what they were: the same wires, other terminals of the source. */
function otherInput(at: Case, U1: Volts): Case | null {
  const { plate, rated, circuit } = at.setting;
  const line = plate?.supply.find((each) => each.U1 === U1);
  if (!line || rated === null) return null;
  const ratio = U1 / classOf(at, rated.U1);
  const volts = circuit && { ...circuit, volts: U1 };
  const raised = boosted(at, (open) => open * ratio);
  return {
    ...raised,
    setting: { ...at.setting, rated: line, circuit: volts, nominalVolts: U1 },
    supply: eachView(raised.supply, (view) => ({
      ...view,
      varianceR: view.varianceR + (otherInputSd * view.ohmsR) ** 2,
    })),
  };
}

/** Ohms upstream go by the square of the ratio; a few per cent of a part of them are left out. */
const tapped = (at: Case, ratio: number): Case => boosted(at, (open) => open * ratio);

/** Seen through a transformer, ohms go by the square of its ratio. */
function transformed(at: Case, ratio: number): Case | null {
  const { rated, circuit, ampsPerLine } = at.setting;
  if (rated === null) return null;
  const own = rated.U1 / (ampsPerLine * rated.I1max);
  const square = ratio * ratio;
  const volts = circuit && { ...circuit, volts: Math.round(circuit.volts * ratio) };
  const raised = boosted(at, (open) => open * ratio);
  return {
    ...raised,
    setting: { ...at.setting, circuit: volts, nominalVolts: volts?.volts ?? null },
    supply: eachView(raised.supply, (view) => ({
      ...view,
      ohmsR: square * view.ohmsR + transformerDrop.value * own,
      ohmsX: square * view.ohmsX,
      openVoltsSd: ratio * view.openVoltsSd,
      varianceR: square * square * view.varianceR + (transformerDrop.sd * own) ** 2,
      varianceX: square * square * view.varianceX,
      covarianceRX: square * square * view.covarianceRX,
    })),
  };
}

/** The open voltage between the machine's terminals changed, and each loop's with it. */
function boosted(at: Case, change: (volts: Volts) => Volts): Case {
  return {
    ...at,
    openVolts: at.openVolts === null ? null : change(at.openVolts),
    supply: eachView(at.supply, (view) => ({ ...view, openVolts: change(view.openVolts) })),
  };
}

function eachView(supply: SupplyEvidence, change: (view: SupplyView) => SupplyView) {
  return { ...supply, pairs: supply.pairs.map((view) => view && change(view)) };
}
