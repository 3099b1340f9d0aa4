import type { Feeder } from '../protocol/feeder.ts';
import type {
  Machine,
  Need,
  NeedCover,
  Plan,
  PlannedCircuit,
  PlanRow,
  Uncovered,
} from '../protocol/planning.ts';
import type { Remedy } from '../protocol/remedy.ts';
import { feederLoad } from './feeder-load.ts';
import { bestGun, lacksFor } from './planned-needs.ts';
import { causeOf, planRemedies, planRow, suppliesOf } from './planned-row.ts';
import { type Candidate, duplicatesOf, furtherOf, machineSets, stepsOf } from './planned-sets.ts';
import { ratedLine } from './rated-line.ts';
import { weldAmpsAt } from './rated-output.ts';
import { type Said, say, sayAll } from './say.ts';
import { rank } from './verdict.ts';

/**
 * Every machine on every circuit; which machines cover which needs there; the smallest and the
 * cheapest set that covers all that can be covered.
 *
 * A machine covers a need when its plate, on the line that a circuit here supplies, meets it, and
 * that circuit's verdict is `adequate`. `marginal` and `unproven` circuits cover nothing: the first
 * are told apart, to be measured.
 */
export function plan(
  machines: readonly Machine[],
  circuits: readonly PlannedCircuit[],
  needs: readonly Need[],
  feeders: readonly Feeder[] = [],
): Plan {
  const supplies = circuits.map(suppliesOf);
  const places = machines.map((machine) => placesOf(machine, circuits, supplies));
  const answers = needs.map((need) => places.map((place) => answer(place, need)));
  const named = needs.map(({ name }) => name);
  const candidates = machines.map(
    ({ name, price = 0, owned = false }, index): Candidate => ({
      name,
      price,
      owned,
      covers: needs.flatMap((_, need) => (answers[need]![index]!.covers === 'yes' ? [need] : [])),
    }),
  );
  const { smallest, cheapest, alternatives } = machineSets(candidates);
  const kept = machines.filter(
    ({ name, owned }) => owned === true || smallest.machines.includes(name),
  );
  const standing = kept.length > 0 ? kept : machines;
  return {
    schema: 'stiffline.plan/1',
    matrix: places.flatMap(({ rows }) => rows),
    covers: needs.map((need, index) => coverOf(need, machines, answers[index]!)),
    smallestSet: smallest,
    cheapestSet: cheapest,
    alternatives,
    steps: stepsOf(smallest, candidates, named),
    further: furtherOf(candidates, named),
    duplicates: duplicatesOf(candidates),
    uncovered: needs.flatMap((need, index) => uncovered(need, machines, answers[index]!, circuits)),
    feeders: feeders.map((feeder) => feederLoad(feeder, circuits, standing)),
    cautions: cautions.map((name) => say(name).says),
  };
}

const cautions = ['planApproves', 'listsRule', 'describedIsEstimate', 'forElectrician'] as const;

/** A machine, its row on every circuit, and for each line of its plate the best row here. */
interface Place {
  machine: Machine;
  rows: PlanRow[];
  best: Map<number, PlanRow>;
}

function placesOf(
  machine: Machine,
  circuits: readonly PlannedCircuit[],
  supplies: readonly ReturnType<typeof suppliesOf>[],
): Place {
  const rows = circuits.map((circuit, at) => planRow(machine, circuit, supplies[at]!(machine)));
  const best = new Map<number, PlanRow>();
  for (const row of rows) {
    const so = best.get(row.plateVolts);
    if (!so || betterRow(row, so)) best.set(row.plateVolts, row);
  }
  return { machine, rows, best };
}

/** By verdict, then by the part of its plate's volts that the machine would get. */
function betterRow(row: PlanRow, than: PlanRow): boolean {
  const byVerdict = rank(row.verdict) - rank(than.verdict);
  const part = ({ voltsAtFullLoad, plateVolts }: PlanRow) => (voltsAtFullLoad ?? 0) / plateVolts;
  return byVerdict < 0 || (byVerdict === 0 && part(row) > part(than));
}

interface Answer {
  covers: 'yes' | 'marginal' | 'no';
  /** Why not; null for "yes". */
  why: Said | null;
  /** The best row on a line of the plate that meets the need; null where there is none. */
  nearest: PlanRow | null;
}

/** The best of the plate's lines that meet the need. */
function answer({ machine, best }: Place, need: Need): Answer {
  let nearest: PlanRow | null = null;
  let fewest: Said[] | null = null;
  for (const { U1 } of machine.supply) {
    const lacks = lacksFor(machine, ratedLine(machine.supply, U1)!, need);
    if (lacks.length > 0) {
      if (fewest === null || lacks.length < fewest.length) fewest = lacks;
      continue;
    }
    const row = best.get(U1);
    const short = row && shortThere(machine, row, need);
    if (short) {
      fewest ??= [short];
      continue;
    }
    fewest = [];
    if (row && (nearest === null || betterRow(row, nearest))) nearest = row;
  }
  if (nearest?.verdict === 'adequate') return { covers: 'yes', why: null, nearest };
  if (nearest) {
    const covers = nearest.verdict === 'marginal' ? 'marginal' : 'no';
    const cause = causeOf(nearest);
    const best = say('bestOn', { circuit: nearest.circuit });
    return { covers, why: cause ? sayAll(best, cause) : best, nearest };
  }
  const [first = say('noSuchSupply'), ...more] = fewest ?? [];
  return { covers: 'no', why: sayAll(first, ...more), nearest };
}

/** Of a machine whose output follows the voltage: what the need lacks of it on the best circuit. */
function shortThere(machine: Machine, row: PlanRow, { minAmps = 0 }: Need): Said | null {
  if (machine.behaviour !== 'constant-impedance' || row.volts95 === null) return null;
  const most = weldAmpsAt(machine, ratedLine(machine.supply, row.plateVolts)!, row.volts95[0]);
  if (most >= minAmps) return null;
  return say('outputShortThere', { most, least: minAmps, circuit: row.circuit });
}

function coverOf(need: Need, machines: readonly Machine[], answers: readonly Answer[]): NeedCover {
  const those = (covers: Answer['covers']) =>
    machines.filter((_, index) => answers[index]!.covers === covers).map(({ name }) => name);
  const guns = machines.flatMap((machine, index) => {
    const { nearest, covers } = answers[index]!;
    if (covers === 'no' || nearest === null) return [];
    const { gun } = bestGun(machine, ratedLine(machine.supply, nearest.plateVolts)!, need);
    return gun === null ? [] : [{ machine: machine.name, gun }];
  });
  const covers = { need: need.name, machines: those('yes'), marginal: those('marginal') };
  return guns.length > 0 ? { ...covers, guns } : covers;
}

function uncovered(
  need: Need,
  machines: readonly Machine[],
  answers: readonly Answer[],
  circuits: readonly PlannedCircuit[],
): Uncovered[] {
  if (answers.some(({ covers }) => covers === 'yes')) return [];
  const marginal = machines.filter((_, index) => answers[index]!.covers === 'marginal');
  const told =
    marginal.length > 0
      ? say('noneSurely', { perhaps: marginal.map(({ name }) => name) })
      : say('noneMeets');
  const why = machines.map(({ name }, index) => ({ machine: name, ...answers[index]!.why! }));
  return [{ need: need.name, ...told, why, ...nearestOf(need, machines, answers, circuits) }];
}

function nearestOf(
  need: Need,
  machines: readonly Machine[],
  answers: readonly Answer[],
  circuits: readonly PlannedCircuit[],
): Pick<Uncovered, 'nearest' | 'remedies'> {
  const best = answers
    .map(({ nearest }) => nearest)
    .reduce((so, row) => (row && (so === null || betterRow(row, so)) ? row : so), null);
  if (best === null) return { nearest: null, remedies: [] };
  const { machine, circuit } = best;
  const plate = machines.find(({ name }) => name === machine)!;
  const place = circuits.find(({ name }) => name === circuit)!;
  const list = planRemedies(plate, place).filter((remedy) => keepsNeed(remedy, plate, need));
  return { nearest: { machine, circuit }, remedies: list };
}

/** A lower setting must still give what is needed, another input line meet the need as well. */
function keepsNeed({ changes }: Remedy, machine: Machine, need: Need): boolean {
  return changes.every((change) => {
    if (change.kind === 'setting') return (change.weldAmps ?? 0) >= (need.minAmps ?? 0);
    if (change.kind !== 'input') return true;
    return lacksFor(machine, ratedLine(machine.supply, change.U1)!, need).length === 0;
  });
}
