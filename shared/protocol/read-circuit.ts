import { Circuit } from './circuit.ts';
import type { FeederConductor } from './feeder.ts';
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
  faults.push(...neutralFaults(circuit), ...typeFaults(circuit));
  if (circuit.branch)
    faults.push(...run(circuit.branch, 'branch', false), ...laidFaults(circuit.branch, 'branch'));
  circuit.cords?.forEach((cord, index) => {
    const path = `cords[${index}]`;
    faults.push(...run(cord, path, true), ...ambientFaults(cord, path, 60));
  });
  return faults;
}

/** Two hot legs of 120 V each, or of a 208 V wye, with a neutral between them. */
const fourWire = { lowest: 190, highest: 260 } as const;

function neutralFaults({ neutralLoaded, phases, volts }: Circuit): Fault[] {
  if (neutralLoaded !== true) return [];
  if (phases !== 3 && volts >= fourWire.lowest && volts <= fourWire.highest) return [];
  return [
    { path: 'neutralLoaded', says: 'is of a single-phase 120/240 V circuit alone: leave it out' },
  ];
}

/** The standard of these types ends at 125 A. */
function typeFaults({ breakerType, breakerAmps }: Circuit): Fault[] {
  if (breakerType === undefined || breakerAmps === undefined || breakerAmps <= 125) return [];
  return [{ path: 'breakerType', says: 'is of breakers up to 125 A alone: leave it out' }];
}

/**
 * What cannot be of a wire's own world, American or metric, or burns it before any current flows:
 * an ambient as hot as its insulation may be.
 */
export function laidFaults(wire: FeederConductor, path: string): Fault[] {
  const { mm2, method, insulationCelsius: insulation, terminalsCelsius } = wire;
  const metric = mm2 !== undefined;
  const faults: Fault[] = [];
  if (!metric && method !== undefined)
    faults.push({ path: `${path}.method`, says: 'is of metric wire alone: leave it out' });
  if (metric && terminalsCelsius !== undefined)
    faults.push({ path: `${path}.terminalsCelsius`, says: 'is of AWG wire alone: leave it out' });
  const material = `${path}.insulationCelsius`;
  if (metric && (insulation === 60 || insulation === 75))
    faults.push({ path: material, says: 'must be 70 (PVC) or 90 (XLPE) for metric wire' });
  if (!metric && insulation === 70)
    faults.push({ path: material, says: 'must be 60, 75 or 90 for AWG wire' });
  return [...faults, ...ambientFaults(wire, path, insulation ?? (metric ? 70 : 60))];
}

function ambientFaults(
  { ambientCelsius }: { ambientCelsius?: number },
  path: string,
  limit: number,
): Fault[] {
  if (ambientCelsius === undefined || ambientCelsius < limit) return [];
  return [
    { path: `${path}.ambientCelsius`, says: `must be under the ${limit} °C of its insulation` },
  ];
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
