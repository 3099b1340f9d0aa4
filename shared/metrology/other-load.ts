import type { BackgroundNoise } from './background-noise.ts';
import type { CycleRing } from './cycle-ring.ts';
import { StepRemainder } from './step-remainder.ts';
import type { OtherLoadEvent } from './supply-estimate.ts';

/** A step as it is found; what is left of it is not known yet. */
type FoundStep = Pick<OtherLoadEvent, 'at' | 'volts' | 'halfWidthVolts' | 'duringArc'>;

/** Means of three cycles with two between them: a step anywhere in the two is seen whole. */
const SIDE = 3;
const GAP = 2;
const SPAN = 2 * SIDE + GAP;
const WEIGHTS = Float64Array.of(1 / 3, 1 / 3, 1 / 3, 0, 0, -1 / 3, -1 / 3, -1 / 3);
const CYCLES = Float64Array.of(7, 6, 5, 4, 3, 2, 1, 0);
/** Cycles between a step and the level before it: a slow one begins this long before its peak. */
const BEFORE = 6;
/** A step must stand this many standard deviations out of the background … */
const STANDS_OUT = 6;
/** … and be this part of the voltage: 5 A at a panel of 50 mΩ on 240 V. */
const LEAST_PART = 0.001;
/** Events kept, the newest: a shop's compressor needs ten hours to fill it. */
const MOST_EVENTS = 256;
/** Steps that wait to hear whether own current made them; one more, and the oldest is told. */
const MOST_HELD = 16;
/** An arc that is not told yet: this much own current, or a change by this much. */
const OWN_AMPS = 2;

/**
 * Finds steps of the open-circuit voltage |V + Z·I|, which own current cannot move. While the
 * impedance is not known, or not well, a step must also be more than the unknown part of it
 * could make of the change of own current. Steps in an arc and beside its edges are held back until
 * the arc has shown whether a contact of its own made them: `release`.
 */
export class OtherLoad {
  readonly #ring: CycleRing;
  readonly #noise: BackgroundNoise;
  readonly #events: OtherLoadEvent[] = [];
  readonly #held: OtherLoadEvent[] = [];
  /** Events recorded so far, those let go included. */
  recorded = 0;
  /** The step being followed to its peak: 0 when there is none. */
  #peak = 0.5;
  #peakAt = 0.5;
  #peakHalfWidth = 0.5;
  #peakInArc = false;
  #peakOwn = false;
  #falling = 0;
  readonly #remainder: StepRemainder;
  #ohmsR = 0.5;
  #ohmsX = 0.5;

  constructor(ring: CycleRing, noise: BackgroundNoise) {
    this.#ring = ring;
    this.#noise = noise;
    this.#remainder = new StepRemainder(ring);
    this.#ohmsR = this.#ohmsX = 0;
    this.#peak = this.#peakAt = this.#peakHalfWidth = 0;
  }

  get events(): readonly OtherLoadEvent[] {
    return this.#events;
  }

  get held(): readonly OtherLoadEvent[] {
    return this.#held;
  }

  /** Lets held steps go: told, but for those after `ownSince`, which a contact made. */
  release(ownSince: number): void {
    for (const event of this.#held) if (event.at < ownSince) this.#keep(event);
    this.#held.length = 0;
  }

  /** Takes the newest cycle. `ohmsUnsure`: how wrong ohmsR + j·ohmsX may be. */
  cycle(ohmsR: number, ohmsX: number, ohmsUnsure: number, inArc: boolean): void {
    const ring = this.#ring;
    if (ring.size < SPAN) return;
    this.#ohmsR = ohmsR;
    this.#ohmsX = ohmsX;
    this.#look(ohmsR, ohmsX, ohmsUnsure, inArc);
    this.#remainder.cycle(ohmsR, ohmsX, ohmsUnsure);
  }

  #look(ohmsR: number, ohmsX: number, ohmsUnsure: number, inArc: boolean): void {
    const ring = this.#ring;
    const newest = ring.slot(0);
    const oldest = ring.slot(SPAN - 1);
    const cycle = ring.end[newest]! - ring.start[newest]!;
    if (ring.end[newest]! - ring.start[oldest]! > (SPAN + 0.5) * cycle) {
      this.settle();
      return;
    }
    let step = 0;
    let along = 0;
    let across = 0;
    for (let k = 0; k < SPAN; k++) {
      const weight = WEIGHTS[k]!;
      if (weight === 0) continue;
      const slot = ring.slot(k);
      const volts = ring.openVolts(slot, ohmsR, ohmsX);
      step += weight * volts;
      along += (weight * ring.along(slot)) / volts;
      across += (weight * ring.across(slot)) / volts;
    }
    const sigma = Math.sqrt(this.#noise.magnitudeVariance(WEIGHTS, CYCLES, SPAN));
    const own = ohmsUnsure * Math.sqrt(along * along + across * across);
    if (!this.standsOut(step, sigma * sigma, own)) {
      this.settle();
      return;
    }
    const at = (ring.end[ring.slot(SIDE + GAP)]! + ring.start[ring.slot(SIDE - 1)]!) / 2;
    const moved = Math.sqrt(along * along + across * across);
    const isOwn = Math.max(moved, ring.irms[newest]!) > OWN_AMPS;
    this.#follow(step, at, 2 * sigma + own, inArc, isOwn);
  }

  /** Whether a step is none of the background's and none of own current's, `own` volts at most. */
  standsOut(step: number, variance: number, own: number): boolean {
    const level = this.#ring.urms[this.#ring.slot(0)]!;
    const least = Math.max(STANDS_OUT * Math.sqrt(variance), LEAST_PART * level);
    return Math.abs(step) > least + own;
  }

  #follow(step: number, at: number, halfWidth: number, inArc: boolean, own: boolean): void {
    if (this.#peak !== 0 && Math.sign(step) !== Math.sign(this.#peak)) this.settle();
    if (Math.abs(step) > Math.abs(this.#peak)) {
      this.#peak = step;
      this.#peakAt = at;
      this.#peakHalfWidth = halfWidth;
      this.#peakInArc = inArc;
      this.#peakOwn = own;
      this.#falling = 0;
    } else if (++this.#falling > SPAN) {
      // A ramp as long as this is no step; what follows it may be one again.
      this.settle();
    }
  }

  /** Reports a step that was followed: it is over, or the stream ends or breaks. */
  settle(): void {
    if (this.#peak === 0) return;
    const event = {
      at: this.#peakAt,
      volts: this.#peak,
      halfWidthVolts: this.#peakHalfWidth,
      duringArc: this.#peakInArc || this.#peakOwn,
    };
    if (event.duringArc) this.hold(event);
    else if (!this.#known(event)) this.#keep(this.#followed(event));
    this.#peak = 0;
    this.#falling = 0;
  }

  /** Holds an event back, unless the same one is known already. */
  hold(event: FoundStep): void {
    if (this.#known(event)) return;
    if (this.#held.length === MOST_HELD) this.#keep(this.#held.shift()!);
    this.#held.push(this.#followed(event));
  }

  /** Looks on at what is left of a step. */
  #followed(found: FoundStep): OtherLoadEvent {
    const lasts = { openVolts: 0, lastsVolts: null, lastsHalfWidthVolts: null, mostVolts: 0 };
    const event: OtherLoadEvent = { ...found, ...lasts };
    const ring = this.#ring;
    const newest = ring.slot(0);
    const cycle = ring.end[newest]! - ring.start[newest]!;
    const age = Math.round((ring.end[newest]! - event.at) / cycle) + BEFORE;
    this.#remainder.begin(event, age, this.#ohmsR, this.#ohmsX);
    return event;
  }

  /** The stream breaks: what is left of a step is as it was last seen. */
  gap(): void {
    this.settle();
    this.#remainder.clear();
  }

  #known({ at }: FoundStep): boolean {
    const ring = this.#ring;
    const newest = ring.slot(0);
    const near = SPAN * (ring.end[newest]! - ring.start[newest]!);
    const same = (event: OtherLoadEvent): boolean => Math.abs(event.at - at) < near;
    return this.#held.some(same) || this.#events.some(same);
  }

  #keep(event: OtherLoadEvent): void {
    if (this.#events.length === MOST_EVENTS) this.#events.shift();
    this.#events.push(event);
    this.recorded++;
  }
}
