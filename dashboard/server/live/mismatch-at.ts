import type { Mismatch, Sensor } from '../../../shared/protocol/http.ts';
import type { ShopSettings } from '../../../shared/protocol/http-settings.ts';
import { isBroken } from '../../../shared/protocol/verdicts.ts';
import { type Hanging, readingVolts } from '../../../shared/rules/loops.ts';
import { mismatches } from '../../../shared/rules/mismatch.ts';
import { supplyVolts } from '../../../shared/rules/wiring.ts';
import type { Volts } from '../../../shared/units.ts';
import { settingOf } from './outlet-setting.ts';

/**
 * What speaks against the machine on a sensor's supply before any weld; null where nothing does.
 * `pairVolts`: with no load, one entry a pair; null: the circuit is what it is called.
 */
export function mismatchAt(
  sensor: Sensor,
  pairVolts: readonly Volts[] | null,
  shop: ShopSettings['hertz'],
  hangs: Hanging | null,
): Mismatch | null {
  if (sensor.plate === null) return null;
  const setting = settingOf(sensor, pairVolts, shop, hangs);
  const openVolts = pairVolts && supplyVolts(readingVolts(setting, pairVolts));
  const [worst] = mismatches(setting, openVolts);
  if (!worst || !isBroken(worst.verdict)) return null;
  const { verdict, says, saying } = worst;
  return { verdict, says, ...(saying && { saying }) };
}
