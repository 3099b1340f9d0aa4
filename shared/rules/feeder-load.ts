import type { Circuit } from '../protocol/circuit.ts';
import type { Feeder, FeederLoad } from '../protocol/feeder.ts';
import type { Plate } from '../protocol/plate.ts';
import { branchAmpacity } from './ampacity.ts';
import { atOnce, farEndVolts, feeder, groupAmps, loadedOf, sumOfFull } from './feeder.ts';
import { groupOn } from './feeder-group.ts';
import { fold } from './verdict.ts';

/** A feeder against those of these machines that may hang on its circuits. */
export function feederLoad(
  of: Feeder,
  circuits: readonly Circuit[],
  plates: readonly Plate[],
): FeederLoad {
  const own = circuits.filter(({ name }) => of.circuits.includes(name));
  const group = groupOn(of.volts, own, plates);
  const asked = { feeder: of, group, hertz: own.find(({ hertz }) => hertz)?.hertz };
  const findings = feeder.ask(asked);
  const { burning } = atOnce(of, group);
  const foretold = burning.length === 0 ? null : farEndVolts(asked, burning);
  return {
    feeder: of.name,
    verdict: fold(findings, true),
    machines: group.byEffective.map(({ machine }) => machine),
    groupAmps: groupAmps(group),
    fullAmps: sumOfFull(group.byFull),
    carriesAmps: of.conductor ? branchAmpacity(of.conductor, loadedOf(of.phases ?? 1)) : null,
    atOnce: {
      machines: burning.map(({ machine }) => machine),
      amps: sumOfFull(burning),
      volts: foretold?.value ?? null,
      volts95: foretold && [foretold.lo, foretold.hi],
      needsVolts: Math.max(0, ...burning.map(({ needsVolts }) => needsVolts)),
    },
    findings,
  };
}
