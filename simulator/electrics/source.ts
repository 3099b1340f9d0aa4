import { sliceS, stepS } from './clockwork.ts';
import type { Random } from './random.ts';
import type { Generator, Utility } from './scenario.ts';
import { Wander } from './wander.ts';

/** Points of one cycle in the wave table; read between points, it errs by 3e-7 of the peak. */
const tableSize = 4096;
/** Turns by which each line's voltage leads the first: two legs are opposed. */
const leads: Record<number, readonly number[]> = { 1: [0], 2: [0, 0.5], 3: [0, 2 / 3, 1 / 3] };

interface Harmonic {
  order: number;
  percent: number;
  degrees: number;
}

/** Electromotive force of each line against the star point, advanced step by step. */
export abstract class Source {
  /** Volts now, a line an entry. */
  readonly emf: Float64Array;
  /** R.m.s. of one line with its harmonics; and the frequency: what a slow look sets. */
  rms: number;
  hertz: number;
  private readonly wave = new Float64Array(tableSize + 1);
  private readonly lead: readonly number[];
  private turns: number;
  private turnsPerStep = 0;
  private peak = 0;
  /** R.m.s. of the table's wave, whose fundamental has a peak of one. */
  private readonly waveRms: number;

  constructor(rms: number, hertz: number, lines: number, harmonics: Harmonic[], random: Random) {
    this.rms = rms;
    this.hertz = hertz;
    this.emf = new Float64Array(lines);
    this.lead = leads[lines]!;
    this.turns = random.unit();
    let squares = 1;
    for (const { percent } of harmonics) squares += (percent / 100) ** 2;
    this.waveRms = Math.sqrt(squares / 2);
    for (let at = 0; at <= tableSize; at++) {
      const angle = (2 * Math.PI * at) / tableSize;
      this.wave[at] = Math.sin(angle);
      for (const { order, percent, degrees } of harmonics) {
        const turned = order * angle + (degrees * Math.PI) / 180;
        this.wave[at]! += (percent / 100) * Math.sin(turned);
      }
    }
  }

  step(): void {
    const { peak } = this;
    for (let line = 0; line < this.emf.length; line++) {
      let turned = this.turns + this.lead[line]!;
      if (turned >= 1) turned -= 1;
      const place = turned * tableSize;
      const at = place | 0;
      const low = this.wave[at]!;
      this.emf[line] = peak * (low + (place - at) * (this.wave[at + 1]! - low));
    }
    this.turns += this.turnsPerStep;
    if (this.turns >= 1) this.turns -= 1;
  }

  /** A slow look, once a slice: mean power and mean square current of a line in the last slice. */
  slice(watts: number, lineAmps2: number): void {
    this.drift(watts, lineAmps2);
    this.turnsPerStep = this.hertz * stepS;
    this.peak = this.rms / this.waveRms;
  }

  /** Sets `rms` and `hertz`. */
  protected abstract drift(watts: number, lineAmps2: number): void;
}

const gridTauS = 1.5;

export class UtilitySource extends Source {
  private readonly nominalRms: number;
  private readonly nominalHertz: number;
  private readonly slow: Wander;
  private readonly quick: Wander;
  private readonly pace: Wander;
  private smoothHertz = 0;

  constructor(spec: Utility, rms: number, hertz: number, lines: number, random: Random) {
    super(rms, hertz, lines, spec.harmonics, random);
    this.nominalRms = rms;
    this.nominalHertz = hertz;
    this.slow = new Wander(random, spec.wanderPercent / 100, 25, sliceS);
    // What other customers do from cycle to cycle: a tenth of the slow wander.
    this.quick = new Wander(random, spec.wanderPercent / 1000, 0.2, sliceS);
    this.pace = new Wander(random, spec.wanderHertz, 40, sliceS);
    this.smoothHertz = this.pace.value;
  }

  protected drift(): void {
    this.rms = this.nominalRms * (1 + this.slow.next() + this.quick.next());
    // The rotors of a whole grid do not jump: its frequency is smooth over a second or two.
    this.smoothHertz += ((this.pace.next() - this.smoothHertz) * sliceS) / gridTauS;
    this.hertz = this.nominalHertz + this.smoothHertz;
  }
}

/** What an engine of this size loses in itself, of rated power (estimate). */
const frictionPart = 0.12;
/** Most an engine gives, of rated; speed where volts begin to go with it, and where it stalls. */
const mostPart = 1.15;
const rollOffPart = 0.94;
const stallPart = 0.6;

/**
 * An engine set. The governor lets the frequency droop with load and the rotor's inertia makes it
 * swing; the field weakens under current, and the regulator makes up for what its ceiling allows.
 */
export class GeneratorSource extends Source {
  private readonly spec: Generator;
  private readonly nominalRms: number;
  private readonly nominalHertz: number;
  private readonly ratedAmps: number;
  private readonly idleHertz: number;
  private engineWatts = 0;
  private meanAmps2 = 0;
  private weakening = 0;
  private boost = 0;
  private readonly hunt: Wander;

  constructor(spec: Generator, rms: number, hertz: number, lines: number, random: Random) {
    super(rms, hertz, lines, spec.harmonics, random);
    this.spec = spec;
    this.nominalRms = rms;
    this.nominalHertz = hertz;
    this.ratedAmps = spec.watts / rms / lines;
    // Common practice, no source: set so that full load brings it a little under nominal.
    this.idleHertz = hertz * (1 + spec.droopPercent / 200);
    this.hertz = this.idleHertz;
    this.hunt = new Wander(random, 0.004, 0.6, sliceS);
  }

  protected drift(watts: number, lineAmps2: number): void {
    const {
      droopPercent,
      inertiaS,
      sagPercent,
      ceilingPercent,
      regulatorS,
      watts: rated,
    } = this.spec;
    const droop = Math.max(droopPercent, 1) / 100;
    const friction = (frictionPart * rated * this.hertz) / this.nominalHertz;
    const wanted = friction + (rated * (this.idleHertz - this.hertz)) / (droop * this.nominalHertz);
    // Fuel can be shut, not taken back: off load only friction slows the rotor.
    const given = Math.min(Math.max(0, wanted), (mostPart + frictionPart) * rated);
    this.engineWatts += ((given - this.engineWatts) * sliceS) / 0.1;
    const surplus = (this.engineWatts - friction - watts) / rated;
    this.hertz += (this.nominalHertz * surplus * sliceS) / (2 * inertiaS);
    this.hertz = Math.max(this.hertz, stallPart * this.nominalHertz);

    this.meanAmps2 += ((lineAmps2 - this.meanAmps2) * sliceS) / 0.02;
    const load = Math.sqrt(this.meanAmps2) / this.ratedAmps;
    this.weakening += (((sagPercent / 100) * load - this.weakening) * sliceS) / 0.15;
    const error = this.weakening - this.boost;
    this.boost += (error * sliceS) / regulatorS;
    this.boost = Math.min(Math.max(this.boost, 0), ceilingPercent / 100);
    // A regulator lets the volts go with the speed of an engine that is dragged down.
    const dragged = Math.min(1, this.hertz / (rollOffPart * this.nominalHertz));
    this.rms = this.nominalRms * dragged * (1 - this.weakening + this.boost + this.hunt.next());
  }
}
