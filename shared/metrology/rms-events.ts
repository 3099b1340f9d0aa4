import { assert } from '../assert.ts';
import type { Fraction, Hertz, SampleIndex, Seconds, Volts } from '../units.ts';
import type { ChannelReading, HalfCycleRow, HalfCycleSink } from './row.ts';
import { SlidingReference } from './sliding-reference.ts';
import { variationCategory } from './variation-category.ts';

export type RmsEventKind = 'dip' | 'swell' | 'interruption';

/** A dip, swell or interruption, after IEC 61000-4-30 (5.4, 5.5). */
export interface RmsEvent {
  kind: RmsEventKind;
  start: SampleIndex;
  end: SampleIndex;
  seconds: Seconds;
  /** Residual voltage: the lowest Urms(1/2) of any channel; of a swell the highest. */
  volts: Volts;
  /** What it is compared with: declared, or the sliding reference when it began. */
  reference: Volts;
  /** (reference − volts) ÷ reference; negative for a swell. */
  depth: Fraction;
  /** Channels, entries of a row: the one that began it, ended it, and went furthest. */
  startChannel: number;
  endChannel: number;
  extremeChannel: number;
  /** IEEE 1159. */
  category: string | null;
}

export interface RmsEventSink {
  began?(kind: RmsEventKind, start: SampleIndex): void;
  ended(event: RmsEvent): void;
}

export interface RmsEventOptions {
  rateHz: Hertz;
  pairs: number;
  /** Entries of a row that are watched, as many as `pairs`; the first ones unless told. */
  entries?: readonly number[];
  declaredVolts: Volts;
  /** `sliding` compares dips and swells with the last minute; interruptions never. */
  reference?: 'declared' | 'sliding';
  /** Shares of the reference; the usual 0.9, 1.1, 0.05 and 0.02. */
  dip?: Fraction;
  swell?: Fraction;
  interruption?: Fraction;
  hysteresis?: Fraction;
}

/** Ended events that `touches` remembers: more than any aggregated interval is asked back about. */
const remembered = 16;

/**
 * Dips, swells and interruptions of one to three channels. Polyphase rules: a dip or swell begins
 * with any channel and ends with all; an interruption begins with all and ends with any. Channels
 * come together in rows, or each by itself on its own crossings, in the order of their ends.
 *
 * An event's borders are the middles of the windows that crossed: a row with a step half way
 * through its window is the first that shows it, so the middle is within half a cycle of the step.
 */
export class RmsEvents implements HalfCycleSink {
  readonly #sink: RmsEventSink;
  readonly #rateHz: Hertz;
  readonly #declared: Volts;
  readonly #entries: readonly number[];
  readonly #sliding: SlidingReference | null;
  readonly #trackers: readonly Tracker[];
  /** The newest Urms(1/2) of every channel. */
  readonly #urms: Float64Array;
  readonly #pastStarts = new Float64Array(remembered).fill(-1);
  readonly #pastEnds = new Float64Array(remembered).fill(-1);
  #past = 0;
  #newest = 0.0;
  #hertz = 50.0;

  constructor(options: RmsEventOptions, sink: RmsEventSink) {
    const { pairs, declaredVolts, dip = 0.9, swell = 1.1, interruption = 0.05 } = options;
    const hysteresis = options.hysteresis ?? 0.02;
    assert(declaredVolts > 0, 'a declared voltage is positive');
    assert(interruption < dip && dip < swell, 'thresholds rise: interruption, dip, swell');
    this.#sink = sink;
    this.#rateHz = options.rateHz;
    this.#declared = declaredVolts;
    this.#entries = options.entries ?? Array.from({ length: pairs }, (_, pair) => pair);
    assert(this.#entries.length === pairs, 'every channel is an entry of a row');
    this.#sliding =
      options.reference === 'sliding' ? new SlidingReference(pairs, declaredVolts) : null;
    this.#urms = new Float64Array(pairs).fill(NaN);
    this.#trackers = [
      new Tracker('dip', dip, dip + hysteresis, pairs),
      new Tracker('swell', swell, swell - hysteresis, pairs),
      new Tracker('interruption', interruption, interruption + hysteresis, pairs),
    ];
  }

  /** True while a dip, a swell or an interruption lasts. */
  get active(): boolean {
    for (const tracker of this.#trackers) if (tracker.active) return true;
    return false;
  }

  /** Flagging (IEC 61000-4-30, 4.7): whether any part of an event lies in `from … to`. */
  touches(from: SampleIndex, to: SampleIndex): boolean {
    for (const tracker of this.#trackers) {
      if (tracker.active && tracker.start < to) return true;
    }
    for (let k = 0; k < remembered; k++) {
      if (this.#pastEnds[k]! > from && this.#pastStarts[k]! < to) return true;
    }
    return false;
  }

  halfCycle(row: HalfCycleRow): void {
    const pairs = this.#urms.length;
    for (let pair = 0; pair < pairs; pair++) this.#urms[pair] = row.urms[this.#entries[pair]!]!;
    this.#take(0, pairs, row.middle, row.hertz);
    const length = row.end - row.middle;
    for (let pair = 0; pair < pairs; pair++)
      this.#sliding?.take(pair, row.uhalf[this.#entries[pair]!]!, length, row.hertz, this.active);
    this.#newest = row.end;
  }

  /** One channel on its own crossings: instead of rows, never beside them. */
  channel(reading: ChannelReading): void {
    const { middle, end, hertz } = reading;
    const pair = this.#entries.indexOf(reading.pair);
    if (pair === -1) return;
    this.#urms[pair] = reading.urms;
    this.#take(pair, pair + 1, middle, hertz);
    this.#sliding?.take(pair, reading.uhalf, end - middle, hertz, this.active);
    this.#newest = Math.max(this.#newest, end);
  }

  /** The stream's end: what still lasts ends here, its end channel the one furthest out. */
  end(): void {
    for (const tracker of this.#trackers) {
      if (!tracker.active) continue;
      tracker.active = false;
      tracker.endChannel = tracker.extremeChannel;
      this.#tell(tracker, this.#newest);
    }
  }

  /** Channels `from` to `to` (not included) have new values, of the window around `middle`. */
  #take(from: number, to: number, middle: SampleIndex, hertz: Hertz): void {
    this.#hertz = hertz;
    for (const tracker of this.#trackers) {
      const fixed = tracker.kind === 'interruption' ? null : this.#sliding;
      const was = tracker.active;
      const sliding = fixed?.volts ?? null;
      if (!tracker.take(this.#urms, from, to, middle, sliding, this.#declared)) continue;
      if (!was) this.#sink.began?.(tracker.kind, tracker.start);
      else this.#tell(tracker, middle);
    }
  }

  #tell(tracker: Tracker, end: SampleIndex): void {
    const { kind, start, volts, reference } = tracker;
    const startChannel = this.#entries[tracker.startChannel]!;
    const endChannel = this.#entries[tracker.endChannel]!;
    const extremeChannel = this.#entries[tracker.extremeChannel]!;
    const slot = this.#past++ % remembered;
    this.#pastStarts[slot] = start;
    this.#pastEnds[slot] = end;
    const seconds = (end - start) / this.#rateHz;
    const depth = (reference - volts) / reference;
    const category = variationCategory(seconds, volts / this.#declared, this.#hertz);
    this.#sink.ended({
      ...{ kind, start, end, seconds, volts, reference, depth },
      ...{ startChannel, endChannel, extremeChannel, category },
    });
  }
}

/** One kind of event over all channels. */
class Tracker {
  readonly kind: RmsEventKind;
  readonly #begin: Fraction;
  readonly #end: Fraction;
  readonly #outside: Uint8Array;
  active = false;
  start = 0.0;
  volts = 0.0;
  reference = 0.0;
  startChannel = 0;
  endChannel = 0;
  extremeChannel = 0;

  constructor(kind: RmsEventKind, begin: Fraction, end: Fraction, pairs: number) {
    this.kind = kind;
    this.#begin = begin;
    this.#end = end;
    this.#outside = new Uint8Array(pairs);
  }

  /** True when new values of channels `from` to `to` (not included) began or ended the event. */
  take(
    urms: Float64Array,
    from: number,
    to: number,
    middle: SampleIndex,
    sliding: Float64Array | null,
    declared: Volts,
  ): boolean {
    const up = this.kind === 'swell';
    // While the event lasts every channel is held against the end's limit, fallen or not.
    const limit = this.active ? this.#end : this.#begin;
    let entered = 0;
    let left = 0;
    for (let pair = from; pair < to; pair++) {
      const share = urms[pair]! / (sliding?.[pair] ?? declared);
      const was = this.#outside[pair] === 1;
      const is = up ? share > limit : share < limit;
      if (is && !was) entered = pair;
      if (was && !is) left = pair;
      this.#outside[pair] = is ? 1 : 0;
    }
    if (!this.#lasts()) {
      const ended = this.active;
      if (ended) this.endChannel = left;
      this.active = false;
      return ended;
    }
    const began = !this.active;
    if (began) {
      this.active = true;
      this.start = middle;
      this.startChannel = entered;
      this.reference = sliding?.[entered] ?? declared;
      this.volts = up ? 0 : Number.POSITIVE_INFINITY;
      this.#furthest(urms, 0, urms.length);
    } else this.#furthest(urms, from, to);
    return began;
  }

  #lasts(): boolean {
    const pairs = this.#outside.length;
    let outside = 0;
    for (let pair = 0; pair < pairs; pair++) outside += this.#outside[pair]!;
    return this.kind === 'interruption' ? outside === pairs : outside > 0;
  }

  /** A channel that was not read yet is no number, and goes nowhere. */
  #furthest(urms: Float64Array, from: number, to: number): void {
    const up = this.kind === 'swell';
    for (let pair = from; pair < to; pair++) {
      const volts = urms[pair]!;
      if (!(up ? volts > this.volts : volts < this.volts)) continue;
      this.volts = volts;
      this.extremeChannel = pair;
    }
  }
}
