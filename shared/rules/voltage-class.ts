import type { Finding } from '../protocol/judgement.ts';
import type { Plate } from '../protocol/plate.ts';
import { namesWire } from '../protocol/wire-size.ts';
import type { Rule, Work } from './facts.ts';
import { notAsked, state } from './finding.ts';
import { gunsOf } from './guns.ts';
import { limits } from './limits.ts';
import { type Said, say } from './say.ts';
import { type ClassAsked, supplyClass } from './supply-class.ts';

const id = 'voltage-class';
/** The supply's class against the plate's, and the machine against the work. */
export const voltageClass: Rule<ClassAsked> = {
  id,
  asks: 'class of supply against the plate; machine against material, wire and process',
  required: 'always',
  limits: [limits.classNear, limits.classFar, limits.classOther, limits.machineClass],
  ask(asked) {
    const findings = [...supplyClass(asked), ...workClass(asked)];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.classFar, say('noClass'))];
  },
};

/** What the trade asks of a machine for a kind of work; unknown work is not asked about. */
function workClass({ work, plate, rated }: ClassAsked): Finding[] {
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
