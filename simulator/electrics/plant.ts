import { assert } from '../../shared/assert.ts';
import type { Hertz, Ohms, Seconds, Volts, Watts } from '../../shared/units.ts';
import type { Scenario } from './scenario.ts';

/** What stands in the catalogue about a sensor's place and its converter. */
export interface PointAbout {
  /** Sensor's name: lower-case letters, digits and hyphens, unique in the plant. */
  readonly name: string;
  /** Voltage–current pairs: 1; 2 on split phase; 3 on three phase, each line to neutral. */
  readonly pairs: 1 | 2 | 3;
  /** What the sensor believes its rate to be; its clock error is part of the counts. */
  readonly rateHz: Hertz;
  readonly bits: 12 | 16 | 24;
  /** One figure a pair: volts that a count is believed to be. */
  readonly voltsPerCount: readonly number[];
  readonly ampsPerCount: readonly number[];
  readonly sensorAt: 'outlet' | 'machine';
  /** Name of the bay, whose circuit other points may share. */
  readonly circuit: string;
}

/** One sensor's view of the plant. */
export interface Point {
  readonly about: PointAbout;
  /** Fills `frames` interleaved frames of counts: v1, i1[, v2, i2[, v3, i3]]. */
  read(into: Int32Array, frames: number): void;
}

export interface TrueSupply {
  openVolts: Volts;
  ohmsR: Ohms;
  ohmsX: Ohms;
}
/** An arc as it burned; power is the supply's at the point, summed over its pairs. */
export interface TrueArc {
  startS: Seconds;
  endS: Seconds;
  meanWatts: Watts;
}
/** Something wrong, or something else at work; `endS` is null while it lasts. */
export interface TrueFault {
  kind: string;
  startS: Seconds;
  endS: Seconds | null;
  says: string;
}
export interface Truth {
  /** One entry a pair of the point asked for. */
  supply: TrueSupply[];
  arcs: TrueArc[];
  faults: TrueFault[];
}

export interface Plant {
  readonly points: readonly Point[];
  /** What was so at a point, by name (the first where none is named), as far as it was read. */
  truth(point?: string): Truth;
}

class SimplePoint implements Point {
  readonly about: PointAbout;
  n = 0;
  constructor(about: PointAbout) {
    this.about = about;
  }
  read(into: Int32Array, frames: number): void {
    const { pairs, rateHz, voltsPerCount, ampsPerCount } = this.about;
    assert(into.length >= frames * pairs * 2, 'room for the frames asked for');
    for (let frame = 0; frame < frames; frame++, this.n++) {
      const t = this.n / rateHz;
      const on = t % 8 > 2 && t % 8 < 5;
      for (let pair = 0; pair < pairs; pair++) {
        const sine = Math.sin(2 * Math.PI * (60 * t - pair / 3));
        const amps = (on ? 25 : 0.5) * Math.SQRT2 * sine;
        const volts = 240 * Math.SQRT2 * sine - 0.3 * amps;
        into[(frame * pairs + pair) * 2] = Math.round(volts / voltsPerCount[pair]!);
        into[(frame * pairs + pair) * 2 + 1] = Math.round(amps / ampsPerCount[pair]!);
      }
    }
  }
}

/**
 * The scenario's circuits, ready to be read. `only` names the points wanted (all where absent): a
 * point left out costs nothing and changes nothing of the others.
 */
export function createPlant(scenario: Scenario, _seed: number, only?: readonly string[]): Plant {
  const points = scenario.bays.flatMap((bay) =>
    bay.sensors
      .filter((sensor) => !only || only.includes(sensor.name))
      .map(
        (sensor) =>
          new SimplePoint({
            name: sensor.name,
            pairs: 1,
            rateHz: sensor.rateHz ?? 10_240,
            bits: sensor.bits ?? 16,
            voltsPerCount: [500 / 32_768],
            ampsPerCount: [200 / 32_768],
            sensorAt: sensor.at,
            circuit: bay.name,
          }),
      ),
  );
  return {
    points,
    truth: () => {
      const end = points[0]!.n / points[0]!.about.rateHz;
      const arcs: TrueArc[] = [];
      for (let s = 2; s + 3 <= end; s += 8) {
        arcs.push({ startS: s, endS: s + 3, meanWatts: (240 - 7.5) * 25 });
      }
      return { supply: [{ openVolts: 240, ohmsR: 0.3, ohmsX: 0 }], arcs, faults: [] };
    },
  };
}
