import { Plate } from './plate.ts';
import { asRead, type Fault, nameFaults, type Read, schemaFaults } from './schema-faults.ts';
import { namesWire } from './wire-size.ts';

/**
 * A rating plate out of parsed JSON. Unknown keys and impossible values are refused by path; what
 * is possible but does not fit together is asked about.
 */
export function readPlate(value: unknown): Read<Plate> {
  const faults = schemaFaults(Plate, value);
  if (faults.length === 0) faults.push(...impossible(value as Plate));
  return asRead<Plate>(value, faults, () => [
    ...questions(value as Plate),
    ...gunQuestions(value as Plate),
  ]);
}

function impossible(plate: Plate): Fault[] {
  const faults = nameFaults(plate.name);
  plate.supply.forEach(({ I1max, I1eff }, index) => {
    if (I1eff !== undefined && I1eff > I1max)
      faults.push({
        path: `supply[${index}].I1eff`,
        says: `must not be over I1max, which is ${I1max} A`,
      });
  });
  const named = new Set<string>();
  for (const [index, { name }] of (plate.guns ?? []).entries()) {
    const path = `guns[${index}].name`;
    faults.push(...nameFaults(name).map(({ says }) => ({ path, says })));
    if (named.has(name)) faults.push({ path, says: `is "${name}", as another gun's is` });
    named.add(name);
  }
  return faults;
}

/** What guns say beyond the plate of the whole machine. */
function gunQuestions({ name, guns = [], pulse, wireInches, processes }: Plate): string[] {
  return guns.flatMap((gun) => {
    const of = `${name}, gun "${gun.name}":`;
    const asked: string[] = [];
    if (gun.pulse === true && pulse === false)
      asked.push(`${of} it pulses, and the plate says that the machine does not.`);
    const wire = gun.wireInches?.find((each) => wireInches && !namesWire(wireInches, each));
    if (wire !== undefined) asked.push(`${of} the plate names no ${wire.toFixed(3)} in wire.`);
    const process = gun.processes?.find((each) => processes && !processes.includes(each));
    if (process !== undefined) asked.push(`${of} the machine is not said to do ${process}.`);
    return asked;
  });
}

/** I1eff = √(I1²·X + I0²·(1 − X)) with I0 up to a tenth of I1; half as much again is let pass. */
function questions(plate: Plate): string[] {
  const output = Math.max(0, ...(plate.ratings ?? []).map((rating) => rating.I2 * rating.U2));
  const inputOf = ({ U1, I1max }: Plate['supply'][number]) =>
    U1 * I1max * (plate.phases === 3 ? Math.sqrt(3) : 1);
  // A machine of two voltages gives its full output on the stronger line only.
  const strongest = Math.max(...plate.supply.map(inputOf));
  return plate.supply.flatMap((line) => {
    const { U1, I1max, I1eff } = line;
    const input = inputOf(line);
    const duties = (plate.ratings ?? []).map((rating) => I1max * Math.sqrt(rating.X));
    const asked: string[] = [];
    if (output > strongest && input === strongest)
      asked.push(
        `${plate.name}: ${output.toFixed(0)} W come out and ${input.toFixed(0)} VA go in at ` +
          `${U1} V and I1max ${I1max} A. Is the plate read right?`,
      );
    else if (output > 0 && output < 0.25 * input)
      asked.push(
        `${plate.name}: ${output.toFixed(0)} W out of ${input.toFixed(0)} VA at ${U1} V is ` +
          'little for a welding machine. Is I1max read right?',
      );
    const least = Math.min(...duties);
    const most = Math.max(...duties);
    if (I1eff !== undefined && duties.length > 0 && (I1eff < least / 1.5 || I1eff > most * 1.5))
      asked.push(
        `${plate.name}: I1eff ${I1eff} A at ${U1} V does not fit I1max ${I1max} A at the plate's ` +
          `duty, which makes about ${most.toFixed(1)} A.`,
      );
    return asked;
  });
}
