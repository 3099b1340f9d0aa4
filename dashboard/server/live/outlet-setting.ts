import type { Sensor } from '../../../shared/protocol/http.ts';
import type { ShopSettings } from '../../../shared/protocol/http-settings.ts';
import type { Setting } from '../../../shared/rules/facts.ts';
import { settle } from '../../../shared/watch/settle.ts';
import { mainsHertz } from './mains.ts';

/** Under this a circuit is dead, and says nothing of what a pair measures. */
const aliveVolts = 30;

/** What the rules are told of what hangs on a sensor; the same as its watch tells them. */
export function settingOf(
  sensor: Sensor | null,
  pairVolts: number | null,
  shop: ShopSettings['hertz'],
): Setting {
  const circuit = sensor?.circuit?.circuit ?? null;
  const nominalHertz = mainsHertz(circuit, sensor ? [sensor] : [], shop);
  return settle(
    {
      rateHz: sensor?.rateHz ?? 0,
      pairs: sensor?.pairs ?? 1,
      startedAt: null,
      nominalVolts: circuit?.volts ?? null,
      nominalHertz,
      plate: sensor?.plate?.plate ?? null,
      // The sensor knows best where it hangs.
      circuit: circuit && { ...circuit, sensorAt: sensor!.at },
    },
    pairVolts !== null && pairVolts > aliveVolts ? pairVolts : null,
    nominalHertz,
  );
}
