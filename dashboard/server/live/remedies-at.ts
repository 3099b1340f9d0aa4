import type { Cord } from '../../../shared/protocol/circuit.ts';
import type { Sensor } from '../../../shared/protocol/http.ts';
import type { Remedies, Tried } from '../../../shared/protocol/http-plan.ts';
import type { ShopSettings } from '../../../shared/protocol/http-settings.ts';
import type { PlannedCircuit } from '../../../shared/protocol/planning.ts';
import type { Change } from '../../../shared/protocol/remedy.ts';
import { cautionsFor } from '../../../shared/rules/cautions.ts';
import type { Setting, SupplyEvidence } from '../../../shared/rules/facts.ts';
import { limits } from '../../../shared/rules/limits.ts';
import { plannedSupply } from '../../../shared/rules/planned-supply.ts';
import { ratedLine } from '../../../shared/rules/rated-line.ts';
import { feedAfter, remedies } from '../../../shared/rules/remedies.ts';
import { machineVolts } from '../../../shared/rules/wiring.ts';
import type { SupplyAt } from './floor.ts';
import { onMains } from './mains.ts';
import { settingOf } from './outlet-setting.ts';

interface Outlet {
  from: Remedies['supply'];
  setting: Setting;
  supply: SupplyEvidence;
  openVolts: number | null;
}

interface Asked {
  /** To be tried in place of those that are there; null: none is tried. */
  cords: Cord[] | null;
  shopHertz: ShopSettings['hertz'];
  /** The shop's others, asked for where they are needed. */
  circuits(): PlannedCircuit[];
}

/**
 * What would make it right at a sensor's outlet, and how the machine there fares behind other
 * cords. Null where no machine or no circuit is known there.
 */
export function remediesAt(
  sensor: Sensor,
  seen: SupplyAt | null,
  { cords, shopHertz, circuits }: Asked,
): Remedies | null {
  const { plate, circuit } = sensor;
  if (!plate || !circuit) return null;
  const { from, setting, supply, openVolts } =
    measured(sensor, seen, shopHertz) ??
    described(sensor, onMains(circuit.circuit, [sensor], shopHertz));
  const own = circuit.circuit.cords ?? [];
  const tried = (with_: Cord[], changes: Change[]): Tried => {
    const feed = feedAfter(setting, supply, changes, { openVolts });
    const { value, lo, hi } = feed?.atFullLoad ?? { value: null, lo: null, hi: null };
    return {
      cords: with_,
      verdict: feed?.verdict ?? 'unproven',
      volts: value,
      volts95: lo === null ? null : [lo, hi],
      findings: feed?.findings ?? [],
    };
  };
  const now = tried(own, []);
  return {
    machine: plate.plate.name,
    circuit: circuit.circuit.name,
    supply: from,
    plateVolts: setting.rated?.U1 ?? null,
    needsVolts: setting.rated && limits.plateLow.value * setting.rated.U1,
    openVolts,
    now,
    tried: cords && tried(cords, [{ kind: 'cords', cords }]),
    // The list is the same whatever cord is tried: it is worked out once, not at each step.
    remedies: cords ? [] : remedies(setting, supply, { openVolts, circuits: circuits() }),
    cautions: cautionsFor(setting, now.findings),
  };
}

/** As the newest arc showed it; null where it did not. */
function measured(
  sensor: Sensor,
  seen: SupplyAt | null,
  shopHertz: Asked['shopHertz'],
): Outlet | null {
  const open = seen?.evidence.pairs.map((view) => view?.openVolts ?? null) ?? [null];
  if (seen === null || open.includes(null)) return null;
  const setting = settingOf(sensor, null, shopHertz, seen.hangs);
  const openVolts = machineVolts(open as number[]);
  return { from: 'measured', setting, supply: seen.evidence, openVolts };
}

/** By the circuit's description alone. */
function described(sensor: Sensor, circuit: PlannedCircuit): Outlet {
  const at = settingOf(sensor, null, circuit.hertz ?? null);
  const plate = sensor.plate!.plate;
  const { from, setting, evidence, openVolts } = plannedSupply(circuit, plate.phases === 3);
  const rated = ratedLine(plate.supply, circuit.volts);
  const nominal = { nominalVolts: circuit.volts, nominalHertz: circuit.hertz ?? null };
  return { from, setting: { ...at, ...setting, ...nominal, rated }, supply: evidence, openVolts };
}
