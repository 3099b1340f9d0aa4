import { Circuit } from './circuit.ts';
import { asRead, type Fault, nameFaults, type Read, schemaFaults } from './schema-faults.ts';

/**
 * A circuit out of parsed JSON. Unknown keys and impossible values are refused by path; what is
 * possible but does not fit together is asked about.
 */
export function readCircuit(value: unknown): Read<Circuit> {
  const faults = schemaFaults(Circuit, value);
  if (faults.length === 0) faults.push(...impossible(value as Circuit));
  return asRead<Circuit>(value, faults, () => questions(value as Circuit));
}

function impossible(circuit: Circuit): Fault[] {
  const faults = nameFaults(circuit.name);
  if (circuit.branch) faults.push(...run(circuit.branch, 'branch', false));
  circuit.cords?.forEach((cord, index) => {
    faults.push(...run(cord, `cords[${index}]`, true));
  });
  return faults;
}

/** A wire has one size and one length; without them nothing can be said of a cord. */
function run(
  wire: { awg?: unknown; mm2?: number; feet?: number; metres?: number },
  path: string,
  whole: boolean,
): Fault[] {
  const faults: Fault[] = [];
  if (wire.awg !== undefined && wire.mm2 !== undefined)
    faults.push({ path, says: 'has awg and mm2: give one of them' });
  if (wire.feet !== undefined && wire.metres !== undefined)
    faults.push({ path, says: 'has feet and metres: give one of them' });
  if (wire.awg === undefined && wire.mm2 === undefined)
    faults.push({ path, says: 'has no size: give awg or mm2' });
  if (whole && wire.feet === undefined && wire.metres === undefined)
    faults.push({ path, says: 'has no length: give feet or metres' });
  return faults;
}

function questions({ name, breakerAmps, receptacleAmps }: Circuit): string[] {
  if (breakerAmps === undefined || receptacleAmps === undefined) return [];
  if (receptacleAmps >= breakerAmps) return [];
  return [
    `${name}: a ${receptacleAmps} A receptacle on a ${breakerAmps} A breaker is lawful for a ` +
      'welder alone. Is anything else ever plugged in there?',
  ];
}
