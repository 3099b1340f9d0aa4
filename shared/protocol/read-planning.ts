import type { TSchema } from 'typebox';
import { type Machine, MeasuredSupply, Need, Offer, type PlannedCircuit } from './planning.ts';
import type { Gun } from './plate.ts';
import { readCircuit } from './read-circuit.ts';
import { type ReadEntry, readList, within } from './read-list.ts';
import { readPlate } from './read-plate.ts';
import { type Fault, nameFaults, type Read, schemaFaults } from './schema-faults.ts';

/** Machines out of parsed JSON: plates, each with price and processes. Refused by path. */
export const readMachines = (value: unknown): Read<Machine[]> => readList(value, machine);

/** Circuits out of parsed JSON, each with its measured supply where there is one. */
export const readCircuits = (value: unknown): Read<PlannedCircuit[]> => readList(value, circuit);

/** Needs out of parsed JSON; without any a plan is of machines on circuits alone. */
export const readNeeds = (value: unknown): Read<Need[]> => readList(value, need, 0);

const need: ReadEntry = (entry) => ({
  faults: [...schemaFaults(Need, entry), ...nameFaults(entry.name)],
  questions: [],
});

const machine: ReadEntry = ({ price, processes, owned, ...rest }) => {
  // On a plate the same key is optional; of a machine to plan with it must be known.
  const plate = readPlate(rest);
  const faults = [...faultsOf(plate), ...part(Offer, { price, processes, owned })];
  const guns = Array.isArray(rest.guns) ? (rest.guns as Partial<Gun>[]) : [];
  if (processes === undefined && (guns.length === 0 || guns.some((gun) => !gun?.processes)))
    faults.push({ path: 'processes', says: 'is missing: no gun says them for itself' });
  if (price === undefined && owned !== true)
    faults.push({ path: 'price', says: 'is missing: what is not owned has a price' });
  return { faults, questions: plate.ok ? plate.questions : [] };
};

const circuit: ReadEntry = ({ supply, ...rest }) => {
  const read = readCircuit(rest);
  const faults = faultsOf(read);
  if (supply !== undefined) {
    const wrong = schemaFaults(MeasuredSupply, supply);
    if (wrong.length === 0) wrong.push(...contradictions(supply as MeasuredSupply));
    faults.push(...wrong.map((fault) => within('supply', fault)));
  }
  return { faults, questions: read.ok ? read.questions : [] };
};

const faultsOf = (read: Read<unknown>): Fault[] => (read.ok ? [] : [...read.faults]);

/** Keys that an entry does not have are left out: `undefined` is none of JSON's values. */
function part(schema: TSchema, keys: Record<string, unknown>): Fault[] {
  const given = Object.entries(keys).filter(([, value]) => value !== undefined);
  return schemaFaults(schema, Object.fromEntries(given));
}

function contradictions(supply: MeasuredSupply): Fault[] {
  return (['ohmsR', 'ohmsX'] as const).flatMap((key) => {
    const interval = supply[`${key}95`];
    if (!interval || (interval[0] <= supply[key] && supply[key] <= interval[1])) return [];
    return [{ path: `${key}95`, says: `must hold ${key}, which is ${supply[key]}` }];
  });
}
