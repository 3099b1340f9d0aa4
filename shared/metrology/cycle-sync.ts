import type { Hertz } from '../units.ts';
import { highestHertz, lowestHertz, searchFrequency } from './frequency-search.ts';
import { FundamentalProbe } from './fundamental-probe.ts';
import type { SampleWindow } from './sample-window.ts';
import { SlowVoltage } from './slow-voltage.ts';

/** Finding the fundamental takes this much of the stream, s: five cycles, or six at 60 Hz. */
export const acquireSeconds = 0.1;
/** The fundamental is followed on sums of samples at this rate or a little more: 20 a cycle. */
const slowRateHz = 1200;
/** A fundamental explains this share of the alternating energy or more; noise explains 0.07. */
const leastCoherence = 0.5;
/** Under this share of its usual height a fundamental must prove itself, and be the best. */
const faintShare = 0.1;
/**
 * A height that moves by more in half a cycle, or by more than four times what noise makes it move,
 * is a step that passes through the window; it would bend the phase by about as much, in radians.
 */
const steadyShare = 0.005;
const steadyNoises = 4;
/** A dip of two cycles moves the height for eight half cycles; after twelve it is believed. */
const longestDisbelief = 12;
/** Part of a border's surprise that goes into the period; borders themselves are as measured. */
const periodGain = 0.15;
/** Frequencies a sync follows lie within this share of the nominal one: 42.5–57.5 and 51–69 Hz. */
const bandShare = 0.16;
/** A window this much off leaks less than the sums it stands on; new tables cost a microsecond. */
const tuneShare = 1e-3;
/** Most that one border may change the period: a phase jump is not a change of frequency. */
const periodStep = 0.003;

/**
 * Finds the borders between half cycles: the zero crossings of the fundamental of one voltage
 * channel. Each is measured through a window two cycles wide around the place where it is foretold,
 * so it is known one cycle late. While a step passes through that window, or where there is no
 * fundamental, the borders are foretold from the period alone.
 *
 * Positions are those of the window it reads; no figure depends on how the samples came.
 */
export class CycleSync {
  /** The newest border, and the half period there, samples. */
  border = 0.0;
  half: number;
  running = false;
  locked = false;
  nominalHertz: 50 | 60 | null;
  /** Pairs whose voltage it may follow. */
  readonly #pairs: readonly number[];
  readonly #rateHz: Hertz;
  readonly #slowHz: Hertz;
  readonly #probe: FundamentalProbe;
  /** The channel that is followed, and one to look at another with. */
  #slow: SlowVoltage;
  #spare: SlowVoltage | null = null;
  readonly #makeSlow: () => SlowVoltage;
  /** Group around which the next border is measured. */
  #next = 0;
  /** Usual height of the fundamental, 0 until one was found; its last. */
  #usual = 0.0;
  #last = 0.0;
  /** What noise moves the height by; half cycles that it kept still, and was disbelieved. */
  #restless = 0.0;
  #calm = 0;
  #disbelieved = 0;
  #sinceSearch = 0;

  /** @param pairs those that may be followed: the best of them is. */
  constructor(
    window: SampleWindow,
    rateHz: Hertz,
    nominalHertz: 50 | 60 | null,
    pairs: readonly number[],
  ) {
    const group = Math.max(1, Math.floor(rateHz / slowRateHz));
    this.#pairs = pairs;
    this.#rateHz = rateHz;
    this.#slowHz = rateHz / group;
    this.nominalHertz = nominalHertz;
    this.half = rateHz / (2 * (nominalHertz ?? 50));
    this.#probe = new FundamentalProbe(this.#slowHz, lowestHertz * (1 - bandShare));
    this.#probe.tune(nominalHertz ?? 50);
    const slots = 2 * this.#lookBack + Math.ceil(window.capacity / group) + 8;
    this.#makeSlow = () => new SlowVoltage(window, group, slots);
    this.#slow = this.#makeSlow();
    if (this.#pairs.length > 1) this.#spare = this.#makeSlow();
  }

  get hertz(): Hertz {
    return this.#rateHz / (2 * this.half);
  }

  /** Oldest sample that a look at another pair may still read. */
  get oldestNeeded(): number {
    return (this.#next - this.#probe.reach - 2) * this.#slow.group;
  }

  /** True when the next border's whole window has come. */
  get ready(): boolean {
    return this.#next + this.#probe.reach < this.#slow.end;
  }

  /** Starts anew on a cleared window, in which some border was expected at `foretold`. */
  restart(foretold: number): void {
    this.running = false;
    this.locked = false;
    this.border = foretold - Math.floor((foretold + 0.5) / this.half) * this.half;
    this.#slow.clear();
    this.#disbelieved = 0;
  }

  /** After `restart`: what it looks at is given back until samples come. */
  rest(): void {
    this.#slow.release();
    this.#spare = null;
  }

  /** Takes what is new in the window. */
  take(): void {
    this.#slow.take(this.#next - this.#lookBack);
  }

  /** Goes on to the next border, foretold without a look at the samples: the stream's last ones. */
  foretell(): void {
    this.#goTo(this.border + this.half);
  }

  /** Goes on to the next border. */
  advance(): void {
    const foretold = this.border + this.half;
    const surprise = this.#surprise(foretold);
    if (surprise !== 0) this.#follow(surprise);
    this.#goTo(foretold + surprise);
  }

  /**
   * Looks for a fundamental in all that is in the window, and stands before the first border in
   * it. Without one it runs on the nominal period, or on half cycles of `half` samples where that
   * is not known either: an outage has half cycles too.
   */
  acquire(half = this.#rateHz / 100): void {
    this.running = true;
    const found = this.#firstWithFundamental();
    if (found === 0) {
      if (this.#usual === 0 && this.nominalHertz === null) this.half = half;
      this.#goTo(this.border);
      return;
    }
    this.#settle(found, this.#probe.reach);
    const border = this.#place(this.#probe.reach) - phaseOf(this.#probe) * this.half;
    this.#goTo(border - Math.floor((border + 0.5) / this.half) * this.half);
  }

  /** How far from its foretold place the next border is measured; 0 where it is not believed. */
  #surprise(foretold: number): number {
    const at = this.#next - this.#slow.origin;
    if (at < this.#probe.reach) return 0;
    this.#probe.measure(this.#slow.values, at);
    const height = this.#probe.amplitude;
    this.locked = (this.#usual > 0 && height > faintShare * this.#usual) || this.#prove();
    if (!this.locked) this.#last = 0;
    if (!this.locked || !this.#believe(this.#probe.amplitude)) return 0;
    const surprise = this.#place(this.#next) - phaseOf(this.#probe) * this.half - foretold;
    // Either crossing is a border, so none is further away than half a half cycle.
    if (Math.abs(surprise) <= this.half / 2) return surprise;
    return surprise - Math.round(surprise / this.half) * this.half;
  }

  #goTo(border: number): void {
    this.border = border;
    this.#next = Math.round((border + this.half + 0.5) / this.#slow.group - 0.5);
  }

  /** Position of the middle of a group. */
  #place(group: number): number {
    return (group + 0.5) * this.#slow.group - 0.5;
  }

  /** Groups that a search reads behind the next border. */
  get #lookBack(): number {
    return Math.ceil(acquireSeconds * this.#slowHz) + 2 * this.#probe.reach;
  }

  /** Picks the first voltage channel whose fundamental stands up to the best one's; 0: none. */
  #firstWithFundamental(): Hertz {
    let best = 0.0;
    let chosen = this.#pairs[0]!;
    for (const pair of this.#pairs) {
      if (this.#searchPair(pair) === 0 || this.#probe.amplitude <= 3 * best) continue;
      if (!this.#coherent(this.#slow, this.#probe.reach)) continue;
      best = this.#probe.amplitude;
      chosen = pair;
    }
    const hertz = this.#searchPair(chosen);
    return best > 0 ? hertz : 0;
  }

  #searchPair(pair: number): Hertz {
    this.#slow.reread(pair, 0);
    return this.#search(0, this.#slow.end);
  }

  #search(from: number, to: number): Hertz {
    const hertz = searchFrequency(this.#probe, this.#slow.values, from, to, this.#slowHz);
    return hertz === 0 ? 0 : this.#rateHz / (2 * this.#inBand(this.#rateHz / (2 * hertz)));
  }

  #coherent(slow: SlowVoltage, group: number): boolean {
    return this.#probe.coherence(slow.values, group - slow.origin) >= leastCoherence;
  }

  /** A fundamental is found: takes its frequency, and its height around a group. */
  #settle(hertz: Hertz, group: number): void {
    this.nominalHertz ??= hertz < 55 ? 50 : 60;
    this.half = this.#inBand(this.#rateHz / (2 * hertz));
    this.#probe.tune(this.hertz);
    const at = Math.max(group - this.#slow.origin, this.#probe.reach);
    this.#probe.measure(this.#slow.values, at);
    this.#usual = this.#last = this.#probe.amplitude;
    this.#disbelieved = 0;
    this.#calm = 2;
    this.locked = true;
  }

  #inBand(half: number): number {
    const nominal = this.nominalHertz;
    const low = nominal === null ? lowestHertz : nominal * (1 - bandShare);
    const high = nominal === null ? highestHertz : nominal * (1 + bandShare);
    return Math.min(this.#rateHz / (2 * low), Math.max(this.#rateHz / (2 * high), half));
  }

  /** A faint fundamental, or none: is it one, and does another pair have a better? */
  #prove(): boolean {
    const coherent = this.#coherent(this.#slow, this.#next);
    const height = coherent ? this.#probe.amplitude : 0;
    for (const pair of this.#pairs) {
      if (pair !== this.#slow.pair && this.#better(pair, height)) return true;
    }
    this.#probe.measure(this.#slow.values, this.#next - this.#slow.origin);
    if (coherent && this.#usual > 0) return true;
    // Where there never was one it is searched for, when a stretch's worth of samples is new.
    if (this.#usual > 0 || ++this.#sinceSearch < 10) return false;
    this.#sinceSearch = 0;
    const to = this.#next - this.#slow.origin + this.#probe.reach + 1;
    const from = Math.max(0, to - Math.ceil(acquireSeconds * this.#slowHz));
    const hertz = this.#search(from, to);
    if (hertz === 0) return false;
    if (!this.#coherent(this.#slow, this.#slow.origin + from + this.#probe.reach)) return false;
    const newest = this.#slow.origin + to - 1 - this.#probe.reach;
    this.#settle(hertz, Math.min(this.#next, newest));
    return true;
  }

  /** Moves to another pair when its fundamental is real and more than twice as high. */
  #better(pair: number, height: number): boolean {
    const spare = (this.#spare ??= this.#makeSlow());
    const from = this.#next - this.#probe.reach;
    spare.reread(pair, from);
    if (spare.origin > from) return false;
    this.#probe.measure(spare.values, this.#next - spare.origin);
    if (this.#probe.amplitude <= 2 * height || !this.#coherent(spare, this.#next)) return false;
    this.#spare = this.#slow;
    this.#slow = spare;
    this.#usual = this.#last = this.#probe.amplitude;
    return true;
  }

  /** False while the height moves; a short dip's turning point alone does not make it calm. */
  #believe(height: number): boolean {
    const moved = Math.abs(height - this.#last);
    const step = steadyShare * Math.max(height, this.#last);
    const most = Math.max(step, steadyNoises * this.#restless);
    this.#last = height;
    this.#restless += 0.05 * (Math.min(moved, most) - this.#restless);
    this.#calm = moved > most ? 0 : this.#calm + 1;
    if (this.#calm < 2 && ++this.#disbelieved <= longestDisbelief) return false;
    this.#disbelieved = 0;
    this.#usual += 0.05 * (height - this.#usual);
    return true;
  }

  #follow(surprise: number): void {
    const limit = periodStep * this.half;
    const change = Math.min(limit, Math.max(-limit, periodGain * surprise));
    this.half = this.#inBand(this.half + change);
    const hertz = this.hertz;
    const off = Math.abs(hertz - this.#probe.tunedHertz);
    if (off > tuneShare * hertz) this.#probe.tune(hertz);
  }
}

/** Phase of the sine at the probe's place in half turns, folded into −½ … ½. */
function phaseOf(probe: FundamentalProbe): number {
  const ratio = probe.cosine / probe.sine;
  const square = ratio * ratio;
  // Near a crossing, where a probe mostly is, the series is exact to 2e-9 and far cheaper.
  if (square < 0.04) {
    const sum = 1 / 3 - square * (1 / 5 - square * (1 / 7 - square / 9));
    return (ratio * (1 - square * sum)) / Math.PI;
  }
  const turn = Math.atan2(probe.cosine, probe.sine) / Math.PI;
  return turn > 0.5 ? turn - 1 : turn < -0.5 ? turn + 1 : turn;
}
