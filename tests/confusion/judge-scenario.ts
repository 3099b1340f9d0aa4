import { assert } from '../../shared/assert.ts';
import { type SensorClass, sensorClassA } from '../../shared/metrology/uncertainty.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { CouponBand } from '../../shared/rules/facts.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { createPlant, scenarioByName, type Truth } from '../../simulator/electrics/index.ts';

/** A fifth of a second of the default sensor: fits the cache, and calls cost nothing. */
const framesAtOnce = 2_048;

/** The simulated front end keeps within a third of it: 0.05 %, 0.2 % and 0.2 degrees. */
const sensorOfPlant: SensorClass = sensorClassA;

export interface Judged {
  judgement: Judgement;
  truth: Truth;
}

/**
 * What one sensor of a scenario sees for `seconds`, judged with its bay's plate, circuit and coupon
 * in this process; and what was true. `bay` by name, the first where absent; its first sensor.
 * `stated`: the watch is told the sensor's class, as `judge --sensor-class` would.
 */
export function judgeScenario(
  name: string,
  seed: number,
  seconds: number,
  bay?: string,
  stated = false,
): Judged {
  const scenario = scenarioByName(name);
  assert(scenario, `there is a scenario ${name}`);
  const place = bay === undefined ? scenario.bays[0] : scenario.bays.find((b) => b.name === bay);
  assert(place, `${name} has a bay ${bay}`);
  const plant = createPlant(scenario, seed, [place.sensors[0]!.name]);
  const point = plant.points[0]!;
  const { rateHz, pairs, sensorAt, voltsPerCount, ampsPerCount } = point.about;
  const watch = new Watch(
    {
      rateHz,
      pairs,
      startedAt: null,
      nominalVolts: null,
      nominalHertz: null,
      keep: 200,
      sensor: stated ? sensorOfPlant : null,
      plate: place.plate as Plate | null,
      circuit: { ...(place.circuit as Circuit), sensorAt },
      coupon: (place.coupon as CouponBand | undefined) ?? null,
    },
    {},
  );
  const counts = new Int32Array(framesAtOnce * 2 * pairs);
  const channels = Array.from({ length: 2 * pairs }, () => new Float64Array(framesAtOnce));
  const frames = Math.round(seconds * rateHz);
  for (let at = 0; at < frames; at += framesAtOnce) {
    const part = Math.min(framesAtOnce, frames - at);
    point.read(counts, part);
    for (let c = 0; c < 2 * pairs; c++) {
      const scale = (c % 2 === 0 ? voltsPerCount : ampsPerCount)[c >> 1]!;
      const column = channels[c]!;
      for (let n = 0; n < part; n++) column[n] = counts[n * 2 * pairs + c]! * scale;
    }
    watch.push(channels, part);
  }
  watch.end();
  return { judgement: watch.judgement(name), truth: plant.truth() };
}
