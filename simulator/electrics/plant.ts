import { assert } from '../../shared/assert.ts';
import type { Hertz, Ohms, Seconds, Volts, Watts } from '../../shared/units.ts';
import { stepS } from './clockwork.ts';
import { FrontEnd } from './front-end.ts';
import { outlet, terminals } from './ladder.ts';
import { lineVolts, pairsOf } from './lines.ts';
import { Random } from './random.ts';
import type { TrueFault } from './record.ts';
import type { Bay, Scenario, Sensor } from './scenario.ts';
import { ShopCircuit, type Tap } from './shop-circuit.ts';

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
  /**
   * Fills `frames` interleaved frames of counts: v1, i1[, v2, i2[, v3, i3]]. Points of one circuit
   * may be read in any order and in any blocks, but not further apart than 16 s.
   */
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
/** Times are the point's own clock's, from its first sample. */
export interface Truth {
  /**
   * One entry a pair, as it was lately: open-circuit r.m.s., mean of the last 20 s without an arc,
   * and the impedance that the machine's own current meets, mean of the last 10 s: wires warm.
   * Of a generator it is the quick part; what its regulator does afterwards is no impedance.
   */
  supply: TrueSupply[];
  /** Arcs whose end has been read. */
  arcs: TrueArc[];
  faults: TrueFault[];
}

export interface Plant {
  readonly points: readonly Point[];
  /** What was so at a point, by name (the first where none is named), as far as it was read. */
  truth(point?: string): Truth;
}

/** Frames that a point may lag behind its circuit, s: bounds the memory of a point left unread. */
const lagS = 16;

class CircuitPoint implements Point, Tap {
  readonly about: PointAbout;
  readonly rung: number;
  private readonly circuit: ShopCircuit;
  private readonly front: FrontEnd;
  private ring: Int32Array;
  private readonly mostFrames: number;
  private written = 0;
  private given = 0;

  constructor(sensor: Sensor, circuit: ShopCircuit, front: FrontEnd) {
    const { bay } = circuit;
    const pairs = pairsOf(bay);
    this.circuit = circuit;
    this.front = front;
    this.rung = sensor.at === 'outlet' ? outlet : terminals;
    this.mostFrames = 2 ** Math.ceil(Math.log2(lagS * sensor.rateHz));
    this.ring = new Int32Array(1024 * front.channels);
    this.about = {
      name: sensor.name,
      pairs,
      rateHz: sensor.rateHz,
      bits: sensor.bits,
      voltsPerCount: Array.from({ length: pairs }, () => front.voltsPerCount),
      ampsPerCount: Array.from({ length: pairs }, () => front.ampsPerCount),
      sensorAt: sensor.at,
      circuit: bay.name,
    };
  }

  step(): void {
    const { front } = this;
    if (!front.step()) return;
    front.convert();
    const n = front.channels;
    if ((this.written - this.given) * n >= this.ring.length) this.grow();
    const at = (this.written * n) % this.ring.length;
    for (let channel = 0; channel < n; channel++) this.ring[at + channel] = front.frame[channel]!;
    this.written += 1;
  }

  private grow(): void {
    const n = this.front.channels;
    const before = this.ring.length / n;
    assert(before < this.mostFrames, 'points of one circuit are read within 16 s of each other');
    const wider = new Int32Array(2 * before * n);
    for (let frame = this.given; frame < this.written; frame++) {
      const from = (frame % before) * n;
      wider.set(this.ring.subarray(from, from + n), (frame % (2 * before)) * n);
    }
    this.ring = wider;
  }

  read(into: Int32Array, frames: number): void {
    const n = this.front.channels;
    assert(into.length >= frames * n, 'room for the frames asked for');
    for (let done = 0; done < frames; ) {
      while (this.written === this.given) this.circuit.advance();
      const at = (this.given * n) % this.ring.length;
      const run = Math.min(frames - done, this.written - this.given, (this.ring.length - at) / n);
      into.set(this.ring.subarray(at, at + run * n), done * n);
      this.given += run;
      done += run;
    }
  }

  truth(): Truth {
    const { circuit, front } = this;
    const n = pairsOf(circuit.bay);
    const own = (trueS: number): number => trueS * (1 + front.clockError);
    const readS = this.given / this.about.rateHz;
    const arcs = circuit.happenings.arcs.flatMap(({ startS, endS, wattSteps }) =>
      endS === null || own(endS) > readS
        ? []
        : [
            {
              startS: own(startS),
              endS: own(endS),
              meanWatts: (wattSteps[this.rung]! * stepS) / (endS - startS),
            },
          ],
    );
    return {
      supply: Array.from({ length: n }, (_, line) => circuit.looks.at(this.rung, line)),
      arcs,
      faults: circuit.happenings.faults
        .filter(({ startS }) => own(startS) <= readS)
        .map((fault) => ({
          ...fault,
          startS: own(fault.startS),
          endS: fault.endS === null || own(fault.endS) > readS ? null : own(fault.endS),
        })),
    };
  }
}

function pointsOf(bay: Bay, seed: number, wanted: (sensor: Sensor) => boolean): CircuitPoint[] {
  const sensors = bay.sensors.filter(wanted);
  if (sensors.length === 0) return [];
  const circuit = new ShopCircuit(bay, seed);
  const volts = lineVolts(bay, bay.circuit.volts);
  return sensors.map((sensor) => {
    const random = new Random(seed, `${bay.name}/sensor/${sensor.name}`);
    const front = new FrontEnd(sensor, volts, bay.circuit.hertz, circuit.ladder, random);
    const point = new CircuitPoint(sensor, circuit, front);
    circuit.taps.push(point);
    return point;
  });
}

/**
 * The scenario's circuits, ready to be read. `only` names the points wanted (all where absent): a
 * point left out costs nothing and changes nothing of the others. Bays are independent circuits:
 * reading one never advances another.
 */
export function createPlant(scenario: Scenario, seed: number, only?: readonly string[]): Plant {
  const wanted = (sensor: Sensor): boolean => !only || only.includes(sensor.name);
  const points = scenario.bays.flatMap((bay) => pointsOf(bay, seed, wanted));
  assert(points.length > 0, 'at least one point of the scenario is wanted');
  return {
    points,
    truth(name) {
      const point = name === undefined ? points[0] : points.find((p) => p.about.name === name);
      assert(point, 'truth is asked of a point of the plant');
      return point.truth();
    },
  };
}
