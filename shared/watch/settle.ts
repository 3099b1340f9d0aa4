import type { Setting } from '../rules/facts.ts';
import { ratedLine } from '../rules/rated-line.ts';
import { nearestNominal, voltsPerPair } from '../rules/wiring.ts';
import type { Volts } from '../units.ts';
import { accuracyOf, assumedSensor } from './accuracy.ts';
import type { WatchSetup } from './contract.ts';

/**
 * What the rules are told of a stream, once its voltage has been seen. Nominal volts are the
 * circuit's; else those of the plate that lie nearest; else found by the measured ones. A plate
 * that has no line for the supply keeps its own: a 208 V supply under a 240 V plate stays one.
 */
export function settle(
  setup: WatchSetup,
  pairVolts: Volts | null,
  nominalHertz: 50 | 60 | null,
): Setting {
  const { plate, circuit, pairs } = setup;
  const described = circuit?.volts ?? setup.nominalVolts;
  const expected =
    described !== null ? [described] : (plate?.supply.map((supply) => supply.U1) ?? []);
  const perPair = pairVolts === null ? 1 : voltsPerPair(pairs, pairVolts, expected);
  const measured = pairVolts === null ? described : pairVolts * perPair;
  const rated = measured === null ? null : ratedLine(plate?.supply ?? [], measured);
  const found = measured === null ? null : nearestNominal(measured);
  const onlyU1 = plate?.supply.length === 1 ? plate.supply[0]!.U1 : null;
  return {
    plate,
    rated: rated ?? plate?.supply[0] ?? null,
    circuit,
    pairs,
    perPair,
    nominalVolts: described ?? rated?.U1 ?? found ?? onlyU1,
    nominalHertz,
    accuracy: accuracyOf(setup.sensor ?? assumedSensor),
    work: setup.work ?? null,
    coupon: setup.coupon ?? null,
    couponNote: setup.couponNote ?? null,
  };
}
