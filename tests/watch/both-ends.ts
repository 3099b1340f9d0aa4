import { assert } from '../../shared/assert.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { WatchedArc } from '../../shared/watch/contract.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { createPlant, parseScenario, type Truth } from '../../simulator/electrics/index.ts';

const framesAtOnce = 2_048;

export interface EndJudged {
  arcs: WatchedArc[];
  truth: Truth;
}

/** What the sensors of a scenario's first bay see, each through a watch of its own. */
export function judgeBothEnds(json: unknown, seed: number, seconds: number): EndJudged[] {
  const scenario = parseScenario(json);
  const bay = scenario.bays[0]!;
  assert(bay.sensors.length === 2, 'a bay with a sensor at each end');
  const plant = createPlant(
    scenario,
    seed,
    bay.sensors.map(({ name }) => name),
  );
  const ends = plant.points.map((point) => {
    const { rateHz, pairs, sensorAt } = point.about;
    const arcs: WatchedArc[] = [];
    const watch = new Watch(
      {
        ...{ rateHz, pairs, startedAt: null, nominalVolts: null, nominalHertz: null },
        plate: bay.plate as Plate,
        circuit: { ...(bay.circuit as Circuit), sensorAt },
      },
      { arcEnded: (arc) => arcs.push(arc) },
    );
    const counts = new Int32Array(framesAtOnce * 2 * pairs);
    const channels = Array.from({ length: 2 * pairs }, () => new Float64Array(framesAtOnce));
    return { point, watch, arcs, counts, channels };
  });
  for (let at = 0; at < seconds * ends[0]!.point.about.rateHz; at += framesAtOnce)
    for (const { point, watch, counts, channels } of ends) {
      point.read(counts, framesAtOnce);
      const { voltsPerCount, ampsPerCount } = point.about;
      for (const [c, column] of channels.entries()) {
        const scale = (c % 2 === 0 ? voltsPerCount : ampsPerCount)[c >> 1]!;
        for (let n = 0; n < framesAtOnce; n++) column[n] = counts[n * channels.length + c]! * scale;
      }
      watch.push(channels, framesAtOnce);
    }
  return ends.map(({ point, watch, arcs }) => {
    watch.end();
    return { arcs, truth: plant.truth(point.about.name) };
  });
}
