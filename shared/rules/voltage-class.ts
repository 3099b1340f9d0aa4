import type { Finding } from '../protocol/judgement.ts';
import type { Plate } from '../protocol/plate.ts';
import { namesWire } from '../protocol/wire-size.ts';
import type { Rule, Setting, Work } from './facts.ts';
import { notAsked, state } from './finding.ts';
import { gunsOf } from './guns.ts';
import { limits } from './limits.ts';
import { type Said, say } from './say.ts';
import { nearestNominal } from './wiring.ts';

const id = 'voltage-class';
type Asked = Setting & { openVolts: number | null };
/** Under this a circuit is dead, which says nothing of its class. */
const aliveVolts = 30;

/** The supply's class against the plate's, and the machine against the work. */
export const voltageClass: Rule<Asked> = {
  id,
  asks: 'class of supply against the plate; machine against material, wire and process',
  required: 'always',
  limits: [limits.classNear, limits.classFar, limits.machineClass],
  ask(asked) {
    const findings = [...supplyClass(asked), ...workClass(asked)];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.classFar, say('noClass'))];
  },
};

/** What the supply is: as measured where that is far from its description, else as described. */
function supplyVolts({ circuit, openVolts: seen }: Asked): number | null {
  const openVolts = seen !== null && seen >= aliveVolts ? seen : null;
  const measured = openVolts === null ? null : nearestNominal(openVolts);
  if (circuit === null || openVolts === null) return measured ?? circuit?.volts ?? null;
  const off = Math.abs(openVolts / circuit.volts - 1);
  return off > limits.classFar.value ? (measured ?? openVolts) : circuit.volts;
}

function supplyClass(asked: Asked): Finding[] {
  const { rated, circuit } = asked;
  const supply = supplyVolts(asked);
  if (rated === null || supply === null) return [];
  const off = supply / rated.U1 - 1;
  const size = Math.abs(off);
  const verdict =
    size <= limits.classNear.value + 1e-9
      ? 'adequate'
      : size <= limits.classFar.value + 1e-9
        ? 'marginal'
        : 'underpowered';
  const other = circuit !== null && circuit.volts !== supply;
  const described = other ? circuit.volts : null;
  const words = {
    ...say(classWords[verdict], { supply, plate: rated.U1, described }),
    electrician: verdict === 'adequate' ? null : say('askOtherSupply'),
    required: true,
  };
  return [
    {
      ...state(id, verdict, words, limits.classFar.source, 'V'),
      measured: supply,
      limit: rated.U1 * (off <= 0 ? 1 - limits.classFar.value : 1 + limits.classFar.value),
      margin: rated.U1 * (limits.classFar.value - size),
    },
  ];
}

const classWords = {
  adequate: 'classFits',
  marginal: 'classNear',
  underpowered: 'classFar',
} as const;

/** What the trade asks of a machine for a kind of work; unknown work is not asked about. */
function workClass({ work, plate, rated }: Asked): Finding[] {
  if (work === null || plate === null || rated === null) return [];
  const { gun, lacks } = bestGun(work, plate, rated.U1);
  const limit = limits.machineClass;
  const refused = procedureClass(work, rated.U1);
  if (lacks.length === 0 && refused) return [refused];
  if (lacks.length === 0)
    return [state(id, 'adequate', { ...say('suitsWork', { gun }), required: true })];
  const found = lacks.map((lack) => ({
    ...state(id, 'underpowered', { ...lack, required: true }, limit.source, limit.unit),
    measured: rated.U1,
    limit: limit.value,
    margin: rated.U1 - limit.value,
  }));
  return refused ? [refused, ...found] : found;
}

/** The gun that suits the work, or comes nearest; null for a machine that names none. */
function bestGun(work: Work, plate: Plate, U1: number): { gun: string | null; lacks: Said[] } {
  return gunsOf(plate)
    .map(({ name, as }) => {
      const process = as.processes?.includes(work.process) ?? true;
      const own = [
        ...(process ? [] : [say('notSetUp', { gun: name })]),
        ...lacking(work, as.pulse === true, U1, name),
        ...wireLacks(work, as, name),
      ];
      return { gun: name, lacks: own };
    })
    .reduce((best, each) => (each.lacks.length < best.lacks.length ? each : best));
}

/** The vehicle maker's procedure over the trade's habit: its class of machine, as typed in. */
function procedureClass({ asked }: Work, U1: number): Finding | null {
  if (!asked || U1 >= asked.machineVolts) return null;
  const { reference: name, machineVolts: least } = asked;
  const words = { ...say('procedureAsks', { name, least, plate: U1 }), required: true };
  return {
    ...state(id, 'underpowered', words, "the vehicle maker's procedure", 'V'),
    measured: U1,
    limit: asked.machineVolts,
    margin: U1 - asked.machineVolts,
  };
}

/** What the machine lacks for the work by common practice: class of supply, pulse. */
export function lacking(work: Work, pulse: boolean, U1: number, gun: string | null): Said[] {
  const light = U1 < limits.machineClass.value;
  const lacks: Said[] = [];
  if (work.process === 'mig-aluminium' && light) lacks.push(say('aluminiumClass', { gun }));
  if (work.process === 'mig-braze' && light) lacks.push(say('brazeClass', { gun }));
  if ((work.process !== 'mig-steel' || work.pulse) && !pulse) lacks.push(say('noPulse', { gun }));
  return lacks;
}

function wireLacks(work: Work, plate: { wireInches?: number[] }, gun: string | null): Said[] {
  const { wireInches } = work;
  if (wireInches === null || !plate.wireInches) return [];
  if (namesWire(plate.wireInches, wireInches)) return [];
  return [say('noWireSize', { inches: wireInches, gun })];
}
