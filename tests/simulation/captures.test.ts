import { expect, test } from 'vitest';
import { ArcDetector } from '../../shared/metrology/arc-detector.ts';
import { Meter } from '../../shared/metrology/meter.ts';
import { createPlant, scenarioByName, scenarioNames } from '../../simulator/electrics/index.ts';
import type { Adc, AdcBlock } from '../../simulator/hal.ts';
import { SimulatedAdc } from '../../simulator/ports/simulated-adc.ts';
import { Rig, stretches } from '../firmware/rig.ts';

const seconds = 20;

/** Looks over the firmware's shoulder: the server's own detector on the whole stream. */
class WatchedAdc implements Adc {
  readonly about;
  readonly arcs: [number, number][] = [];
  readonly #adc: Adc;
  readonly #meter: Meter;
  readonly #columns: Float64Array[];

  constructor(adc: Adc) {
    this.#adc = adc;
    this.about = adc.about;
    const { rateHz, pairs } = adc.about;
    this.#columns = adc.about.scale.map(() => new Float64Array(8_192));
    const events = {
      began: () => {},
      ended: (start: number, end: number) => this.arcs.push([start, end]),
    };
    this.#meter = new Meter(
      { rateHz, pairs, nominalHertz: null },
      new ArcDetector({ rateHz }, events),
    );
  }

  read(into: Int32Array, block: AdcBlock): void {
    this.#adc.read(into, block);
    const width = this.#columns.length;
    for (const [channel, column] of this.#columns.entries())
      for (let n = 0; n < block.frames; n++)
        column[n] = into[n * width + channel]! * this.about.scale[channel]!;
    this.#meter.push(this.#columns, block.frames);
  }
}

test.each(scenarioNames())('%s: no arc is missed, none cut short', (name) => {
  const scenario = scenarioByName(name)!;
  const point = scenario.bays[0]!.sensors[0]!.name;
  const plant = createPlant(scenario, 7, [point]);
  let watched!: WatchedAdc;
  const rig = new Rig({
    adc: (_, clock) => {
      watched = new WatchedAdc(new SimulatedAdc(plant.points[0]!, clock));
      return watched;
    },
  });
  rig.run(seconds + 3);
  const { rateHz } = watched.about;
  const held = stretches(rig.server.waves);
  const holds = (from: number, to: number) =>
    held.some(([first, end]) => first <= Math.max(0, from) && end >= to);
  for (const { startS, endS } of plant.truth(point).arcs)
    if (endS < seconds)
      expect(holds((startS - 0.45) * rateHz, (endS + 0.45) * rateHz), `${startS}`).toBe(true);
  for (const [start, end] of watched.arcs)
    if (end < seconds * rateHz) expect(holds(start - 0.4 * rateHz, end + 0.4 * rateHz)).toBe(true);
  expect(rig.server.faults).toEqual([]);
  expect(rig.firmware.health.flags).toBe(0);
  // A capture that runs all the time would hold every arc too.
  if (rig.server.states.at(-1)!.state === 'arc') return;
  const sum = held.reduce((total, [first, end]) => total + end - first, 0);
  const { arcs, faults } = plant.truth(point);
  const burning = arcs.reduce((total, arc) => total + arc.endS - arc.startS, 0);
  // A try that did not strike pulls the trigger as an arc does.
  const tries = faults.filter(({ kind, endS }) => kind === 'no-strike' && endS !== null).length;
  expect(sum / rateHz).toBeLessThan(burning + 3 * (arcs.length + tries + 2));
});
