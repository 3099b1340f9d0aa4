import { rowWidth } from '../../../shared/metrology/line-to-line.ts';
import type { Sensor } from '../../../shared/protocol/http.ts';
import type { ShopSettings } from '../../../shared/protocol/http-settings.ts';
import { aliveVolts } from '../../../shared/rules/arrangement.ts';
import type { Setting } from '../../../shared/rules/facts.ts';
import type { Hanging } from '../../../shared/rules/loops.ts';
import { placed } from '../../../shared/rules/place.ts';
import { voltsPerPair } from '../../../shared/rules/wiring.ts';
import { settle } from '../../../shared/watch/settle.ts';
import { mainsHertz } from './mains.ts';

/**
 * What the rules are told of what hangs on a sensor; the same as its watch tells them, once an arc
 * has shown where the machine hangs (`hangs`). Before that only the pairs' own volts are known.
 */
export function settingOf(
  sensor: Sensor | null,
  pairVolts: readonly number[] | null,
  shop: ShopSettings['hertz'],
  hangs: Hanging | null = null,
): Setting {
  const circuit = sensor?.circuit?.circuit ?? null;
  const at = sensor === null || sensor.at === 'unstated' ? null : sensor.at;
  const nominalHertz = mainsHertz(circuit, sensor ? [sensor] : [], shop);
  const seen = hangs?.service ?? (pairVolts && assumedOf(sensor, pairVolts));
  const setting = settle(
    {
      rateHz: sensor?.rateHz ?? 0,
      pairs: sensor?.pairs ?? 1,
      startedAt: null,
      nominalVolts: circuit?.volts ?? null,
      nominalHertz,
      plate: sensor?.plate?.plate ?? null,
      circuit: placed(circuit, at),
      sensorAt: at,
    },
    seen && Math.max(...seen.volts) > aliveVolts
      ? { volts: seen.volts, carries: hangs?.loops ?? null }
      : null,
    nominalHertz,
  );
  return hangs ? { ...setting, ...hangs } : { ...setting, service: null };
}

/** Rows of a live sensor have no angle: legs are taken to add up where that fits. */
function assumedOf(sensor: Sensor | null, volts: readonly number[]): { volts: number[] } {
  const circuit = sensor?.circuit?.circuit;
  const plated = sensor?.plate?.plate.supply.map(({ U1 }) => U1) ?? [];
  const expected = circuit ? [circuit.volts] : plated;
  const most = Math.max(...volts);
  const between = voltsPerPair(volts.length, most, expected) * most;
  const lines = rowWidth(volts.length) - volts.length;
  return { volts: [...volts, ...Array.from({ length: lines }, () => between)] };
}
