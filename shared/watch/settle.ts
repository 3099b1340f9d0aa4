import type { Setting } from '../rules/facts.ts';
import { hangingOf } from '../rules/loops.ts';
import { placeOf } from '../rules/place.ts';
import { ratedLine } from '../rules/rated-line.ts';
import { nearestByRatio, nearestNominal, supplyVolts } from '../rules/wiring.ts';
import type { Volts } from '../units.ts';
import { accuracyOf, assumedSensor } from './accuracy.ts';
import type { WatchSetup } from './contract.ts';

/** What a stream has shown of its wires. */
export interface Seen {
  /** R.m.s. with the machine idle, one entry of a row each. */
  volts: readonly Volts[];
  /** Entries that an arc's current flowed through; null where none has told. */
  carries: readonly number[] | null;
}

/**
 * What the rules are told of a stream, once its voltage has been seen. Nominal volts are the
 * circuit's; else those of the plate that lie nearest; else found by the measured ones. A plate
 * that has no line for the supply keeps its own: a 208 V supply under a 240 V plate stays one.
 */
export function settle(
  setup: WatchSetup,
  seen: Seen | null,
  nominalHertz: 50 | 60 | null,
): Setting {
  const { plate, circuit, pairs } = setup;
  const described = circuit?.volts ?? setup.nominalVolts;
  const hangs = hangingOf(
    { plate, pairs, describedVolts: described },
    seen?.volts ?? null,
    seen?.carries ?? null,
  );
  const measured = seen && supplyVolts(hangs.loops.map((loop) => seen.volts[loop]!));
  const rated = ratedOf(setup, measured ?? described);
  const found = measured === null ? null : nearestNominal(measured);
  const onlyU1 = plate?.supply.length === 1 ? plate.supply[0]!.U1 : null;
  return {
    plate,
    rated: rated ?? plate?.supply[0] ?? null,
    circuit,
    place: placeOf(setup.sensorAt, circuit),
    pairs,
    ...hangs,
    nominalVolts: describedAt(described, pairs, measured) ?? rated?.U1 ?? found ?? onlyU1,
    nominalHertz,
    accuracy: accuracyOf(setup.sensor ?? assumedSensor),
    work: setup.work ?? null,
    coupon: setup.coupon ?? null,
    couponNote: setup.couponNote ?? null,
  };
}

const ratedOf = ({ plate }: WatchSetup, volts: Volts | null) =>
  volts === null ? null : ratedLine(plate?.supply ?? [], volts);

/** A circuit is described from line to line: a machine on one leg of it has half, or 1/√3. */
function describedAt(described: Volts | null, pairs: number, measured: Volts | null): Volts | null {
  if (described === null || measured === null || pairs === 1) return described;
  const at = nearestByRatio([described, described / 2, described / Math.sqrt(3)], measured);
  return at === described ? described : (nearestNominal(at) ?? at);
}
