import type { Circuit } from './circuit.ts';
import { Feeder, type FeederConductor, KeptFeeder } from './feeder.ts';
import { laidFaults } from './read-circuit.ts';
import { type ReadEntry, readList } from './read-list.ts';
import { asRead, type Fault, nameFaults, type Read, schemaFaults } from './schema-faults.ts';

/** A feeder as a shop keeps it, out of parsed JSON. Refused by path. */
export function readKeptFeeder(value: unknown): Read<KeptFeeder> {
  const faults = schemaFaults(KeptFeeder, value);
  if (faults.length === 0) faults.push(...impossible(value as KeptFeeder));
  return asRead<KeptFeeder>(value, faults, () => []);
}

/**
 * Feeders out of parsed JSON, beside the circuits that they name. Refused by path: unknown keys,
 * impossible values, circuits that are in no list or hang on two feeders. What is possible but does
 * not fit the circuits is asked about.
 */
export function readFeeders(value: unknown, circuits: readonly Circuit[]): Read<Feeder[]> {
  const read = readList<Feeder>(value, entry, 0);
  if (!read.ok) return read;
  const faults = misplaced(read.value, circuits);
  return asRead<Feeder[]>(value, faults, () =>
    read.value.flatMap((feeder) => questions(feeder, circuits)),
  );
}

const entry: ReadEntry = (value) => {
  const faults = schemaFaults(Feeder, value);
  if (faults.length === 0) faults.push(...impossible(value as unknown as Feeder));
  return { faults, questions: [] };
};

function impossible(feeder: Feeder | KeptFeeder): Fault[] {
  const faults = nameFaults(feeder.name);
  if (feeder.conductor) faults.push(...conductorFaults(feeder.conductor));
  const seen = new Set<string | number>();
  for (const [at, circuit] of feeder.circuits.entries()) {
    if (seen.has(circuit)) faults.push({ path: `circuits[${at}]`, says: 'is named twice' });
    seen.add(circuit);
  }
  return faults;
}

function conductorFaults(conductor: FeederConductor): Fault[] {
  const { awg, mm2, kcmil, feet, metres } = conductor;
  const path = 'conductor';
  const sizes = [awg, mm2, kcmil].filter((size) => size !== undefined).length;
  const faults: Fault[] = [];
  if (sizes === 0) faults.push({ path, says: 'has no size: give awg, kcmil or mm2' });
  if (sizes > 1) faults.push({ path, says: 'has two sizes: give one of awg, kcmil and mm2' });
  if (feet !== undefined && metres !== undefined)
    faults.push({ path, says: 'has feet and metres: give one of them' });
  faults.push(...laidFaults(conductor, path));
  return faults;
}

/** A circuit hangs on one feeder, and on one that is there. */
function misplaced(feeders: readonly Feeder[], circuits: readonly Circuit[]): Fault[] {
  const known = new Set(circuits.map(({ name }) => name));
  const fedBy = new Map<string, string>();
  return feeders.flatMap(({ name, circuits: own }, index) =>
    own.flatMap((circuit, at): Fault[] => {
      const path = `[${index}].circuits[${at}]`;
      if (!known.has(circuit))
        return [{ path, says: `is "${circuit}", and no circuit has that name` }];
      const other = fedBy.get(circuit);
      fedBy.set(circuit, name);
      if (other === undefined) return [];
      return [{ path, says: `is "${circuit}", which hangs on "${other}" already` }];
    }),
  );
}

/** Between two wires, on half of a split phase, or from a phase to neutral. */
const ratios = [1, 1 / 2, 1 / Math.sqrt(3)] as const;
/** 110 to 127 V are all called 120, and 220 to 240 all 230. */
const sameClass = 0.1;

function questions(feeder: Feeder, circuits: readonly Circuit[]): string[] {
  const { name, volts, phases = 1, breakerAmps, atOnce, circuits: own } = feeder;
  const asked = circuits
    .filter((circuit) => own.includes(circuit.name))
    .flatMap((circuit) => {
      const says: string[] = [];
      if (ratios.every((ratio) => Math.abs(circuit.volts / (ratio * volts) - 1) > sameClass))
        says.push(
          `${name}: ${circuit.name} has ${circuit.volts} V on a feeder of ${volts} V. Is a ` +
            'transformer between? Its currents are counted as if there were none.',
        );
      if (circuit.phases === 3 && phases === 1)
        says.push(`${name}: ${circuit.name} has three phases, the feeder one. Is that so?`);
      if (breakerAmps !== undefined && (circuit.breakerAmps ?? 0) > breakerAmps)
        says.push(
          `${name}: the ${circuit.breakerAmps} A breaker of ${circuit.name} is larger than the ` +
            `feeder's ${breakerAmps} A. Are both read right?`,
        );
      return says;
    });
  if (atOnce === undefined || atOnce <= own.length) return asked;
  return [
    ...asked,
    `${name}: ${atOnce} machines at once are more than its ${own.length} circuits.`,
  ];
}
