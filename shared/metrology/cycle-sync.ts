import type { Hertz } from '../units.ts';
import { highestHertz, lowestHertz, searchFrequency } from './frequency-search.ts';
import { FundamentalProbe } from './fundamental-probe.ts';
import type { SampleWindow } from './sample-window.ts';

/** Finding the fundamental takes this much of the stream, s: five cycles, or six at 60 Hz. */
export const acquireSeconds = 0.1;
/** The fundamental is followed on sums of samples at this rate or a little more, 1/s: 20 a cycle. */
const slowRateHz = 1200;
/** A fundamental explains at least this share of the alternating energy; noise explains 0.07. */
const leastCoherence = 0.5;
/** Under this share of its usual height a fundamental must prove itself, and be the best there is. */
const faintShare = 0.1;
/**
 * A height that moves by more in half a cycle, or by more than four times what noise makes it move,
 * is a step that passes through the window; it would bend the phase by about as much, in radians.
 */
const steadyShare = 0.005;
const steadyNoises = 4;
/** A dip of two cycles moves the height for eight half cycles; after twelve even a moving one is believed. */
const longestDisbelief = 12;
/** Part of a border's surprise that goes into the period; borders themselves are as measured. */
const periodGain = 0.15;
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
  border = 0;
  half: number;
  running = false;
  locked = false;
  nominalHertz: 50 | 60 | null;
  readonly #window: SampleWindow;
  readonly #rateHz: Hertz;
  readonly #group: number;
  readonly #probe: FundamentalProbe;
  readonly #kept: number;
  #slow: Float64Array;
  #spare: Float64Array;
  #slowOrigin = 0;
  #slowEnd = 0;
  #pair = 0;
  /** Usual height of the fundamental, 0 until one was found; its last; half cycles disbelieved. */
  #usual = 0.0;
  #last = 0.0;
  #restless = 0.0;
  #disbelieved = 0;
  #calm = 0;
  #sinceSearch = 0;

  constructor(window: SampleWindow, rateHz: Hertz, nominalHertz: 50 | 60 | null) {
    this.#window = window;
    this.#rateHz = rateHz;
    this.#group = Math.max(1, Math.floor(rateHz / slowRateHz));
    this.nominalHertz = nominalHertz;
    this.half = rateHz / (2 * (nominalHertz ?? 50));
    const slowHz = rateHz / this.#group;
    this.#probe = new FundamentalProbe(slowHz, lowestHertz * 0.9);
    this.#probe.tune(nominalHertz ?? 50);
    // What a search reads, and all that the window can bring at once.
    this.#kept = Math.ceil(acquireSeconds * slowHz) + 2 * this.#probe.reach;
    const slots = 2 * this.#kept + Math.ceil(window.capacity / this.#group) + 8;
    this.#slow = new Float64Array(slots);
    this.#spare = new Float64Array(slots);
  }

  get hertz(): Hertz {
    return this.#rateHz / (2 * this.half);
  }

  /** Oldest sample that a later measurement may still read. */
  get oldestNeeded(): number {
    return Math.floor(this.border - this.half - (this.#probe.reach + 2) * this.#group);
  }

  /** Starts anew on a cleared window; `foretold` is where a border is expected in it. */
  restart(foretold: number): void {
    this.running = false;
    this.locked = false;
    this.border = foretold - Math.floor((foretold + 0.5) / this.half) * this.half;
    this.#slowOrigin = 0;
    this.#slowEnd = 0;
    this.#disbelieved = 0;
  }

  /** Takes what is new in the window. */
  take(): void {
    const group = this.#group;
    const coming = Math.floor(this.#window.end / group) - this.#slowEnd;
    if (this.#slowEnd - this.#slowOrigin + coming > this.#slow.length) this.#dropSlow();
    const slow = this.#slow;
    const column = this.#window.columns[2 * this.#pair]!;
    const origin = this.#window.origin;
    let at = this.#slowEnd * group - origin;
    let n = this.#slowEnd - this.#slowOrigin;
    const last = Math.min(
      this.#window.end - origin - group,
      at + (this.#slow.length - 1 - n) * group,
    );
    for (; at <= last; at += group) {
      let even = 0.0;
      let odd = 0.0;
      let k = at;
      for (const next = at + group - 1; k < next; k += 2) {
        even += column[k]!;
        odd += column[k + 1]!;
      }
      if (k < at + group) even += column[k]!;
      slow[n++] = even + odd;
    }
    this.#slowEnd = this.#slowOrigin + n;
  }

  /** True when the next border's whole window has come. */
  get ready(): boolean {
    return this.#nextProbe() + this.#probe.reach < this.#slowEnd;
  }

  /** Goes on to the next border, foretold without a look at the samples: the stream's last ones. */
  foretell(): void {
    this.border += this.half;
  }

  /** Goes on to the next border. */
  advance(): void {
    const foretold = this.border + this.half;
    const at = this.#nextProbe() - this.#slowOrigin;
    this.border = foretold;
    if (at < this.#probe.reach) return;
    this.#probe.measure(this.#slow, at);
    const height = this.#probe.amplitude;
    if (height <= faintShare * this.#usual || this.#usual === 0) {
      this.locked = this.#prove(at);
      if (!this.locked) {
        this.#last = 0;
        return;
      }
    } else this.locked = true;
    if (!this.#believe(this.#probe.amplitude)) return;
    const place = (at + this.#slowOrigin + 0.5) * this.#group - 0.5;
    const measured = place - (halfTurn(this.#probe) / Math.PI) * this.half;
    let surprise = measured - foretold;
    surprise -= Math.round(surprise / this.half) * this.half;
    this.border = foretold + surprise;
    this.#follow(surprise);
  }

  /**
   * Looks for a fundamental in all that is in the window, and stands before the first border in
   * it. Without one it runs on the nominal period: an outage has half cycles too.
   */
  acquire(): void {
    this.running = true;
    const found = this.#firstWithFundamental();
    if (found === null) {
      if (this.#usual === 0 && this.nominalHertz === null) this.half = this.#rateHz / 100;
      return;
    }
    this.#settle(found, this.#probe.reach);
    const place = (this.#probe.reach + 0.5) * this.#group - 0.5;
    const border = place - (halfTurn(this.#probe) / Math.PI) * this.half;
    this.border = border - Math.floor((border + 0.5) / this.half) * this.half;
  }

  /** Picks the first voltage channel whose fundamental stands up to the best one's. */
  #firstWithFundamental(): Hertz | null {
    let best = 0.0;
    let chosen = -1;
    for (let pair = 0; pair < this.#window.columns.length / 2; pair++) {
      if (this.#searchPair(pair) === 0 || this.#probe.amplitude <= 3 * best) continue;
      if (this.#probe.coherence(this.#slow, this.#probe.reach) < leastCoherence) continue;
      best = this.#probe.amplitude;
      chosen = pair;
    }
    if (chosen >= 0) return this.#searchPair(chosen);
    this.#reread(0);
    return null;
  }

  #searchPair(pair: number): Hertz {
    this.#reread(pair);
    return this.#search(0, this.#slowEnd);
  }

  #reread(pair: number): void {
    this.#pair = pair;
    this.#slowOrigin = 0;
    this.#slowEnd = 0;
    this.take();
  }

  #search(from: number, to: number): Hertz {
    const slowHz = this.#rateHz / this.#group;
    const hertz = searchFrequency(this.#probe, this.#slow, from, to, slowHz);
    return hertz === 0 || this.nominalHertz === null ? hertz : this.#inBand(hertz);
  }

  #settle(hertz: Hertz, at: number): void {
    this.nominalHertz ??= hertz < 55 ? 50 : 60;
    this.half = this.#rateHz / (2 * this.#inBand(hertz));
    this.#probe.tune(this.hertz);
    this.#probe.measure(this.#slow, Math.max(at, this.#probe.reach));
    this.#usual = this.#last = this.#probe.amplitude;
    this.#disbelieved = 0;
    this.#calm = 2;
    this.locked = true;
  }

  #inBand(hertz: Hertz): Hertz {
    const nominal = this.nominalHertz;
    if (nominal === null) return Math.min(highestHertz, Math.max(lowestHertz, hertz));
    return Math.min(nominal * 1.16, Math.max(nominal * 0.84, hertz));
  }

  /** A faint fundamental, or none: looks whether it is one, and whether another pair has a better. */
  #prove(at: number): boolean {
    const coherent = this.#probe.coherence(this.#slow, at) >= leastCoherence;
    const height = coherent ? this.#probe.amplitude : 0;
    for (let pair = 0; pair < this.#window.columns.length / 2; pair++) {
      if (pair !== this.#pair && this.#better(pair, at, height)) return true;
    }
    this.#probe.measure(this.#slow, at);
    if (coherent && this.#usual > 0) return true;
    // Noise is searched again only after a stretch's worth of new samples.
    if (this.#usual > 0 || ++this.#sinceSearch < 10) return false;
    this.#sinceSearch = 0;
    const to = at + this.#probe.reach + 1;
    const from = Math.max(0, to - Math.ceil(acquireSeconds * (this.#rateHz / this.#group)));
    const hertz = this.#search(from, to);
    if (hertz === 0) return false;
    const middle = from + this.#probe.reach;
    if (this.#probe.coherence(this.#slow, middle) < leastCoherence) return false;
    this.#settle(hertz, Math.min(at, to - 1 - this.#probe.reach));
    return true;
  }

  /** Moves to another pair when its fundamental is real and more than twice as high. */
  #better(pair: number, at: number, height: number): boolean {
    const column = this.#window.columns[2 * pair]!;
    const group = this.#group;
    const reach = this.#probe.reach;
    for (let n = at - reach; n < this.#slowEnd - this.#slowOrigin; n++) {
      const first = (n + this.#slowOrigin) * group - this.#window.origin;
      if (first < 0) return false;
      let sum = 0.0;
      for (let k = first; k < first + group; k++) sum += column[k]!;
      this.#spare[n] = sum;
    }
    this.#probe.measure(this.#spare, at);
    if (this.#probe.amplitude <= 2 * height) return false;
    if (this.#probe.coherence(this.#spare, at) < leastCoherence) return false;
    const old = this.#slow;
    this.#slow = this.#spare;
    this.#spare = old;
    this.#pair = pair;
    this.#usual = this.#last = this.#probe.amplitude;
    return true;
  }

  /** False while the height moves; a short dip's turning point alone does not make it calm. */
  #believe(height: number): boolean {
    const moved = Math.abs(height - this.#last);
    const most = Math.max(
      steadyShare * Math.max(height, this.#last),
      steadyNoises * this.#restless,
    );
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
    this.half += Math.min(limit, Math.max(-limit, periodGain * surprise));
    this.half = this.#rateHz / (2 * this.#inBand(this.hertz));
    // A window a thousandth off leaks less than the sums it stands on; tables cost a microsecond.
    if (Math.abs(this.hertz / this.#probe.tunedHertz - 1) > 1e-3) this.#probe.tune(this.hertz);
  }

  #nextProbe(): number {
    return Math.round((this.border + this.half + 0.5) / this.#group - 0.5);
  }

  #dropSlow(): void {
    // Not behind the next border's own window, which may still be due.
    const due = this.#nextProbe() - this.#probe.reach - this.#kept;
    const used = Math.max(0, Math.min(due, this.#slowEnd - this.#kept) - this.#slowOrigin);
    this.#slow.copyWithin(0, used, this.#slowEnd - this.#slowOrigin);
    this.#slowOrigin += used;
  }
}

/** Phase of the sine at the probe's place, folded into −π/2 … π/2: either crossing is a border. */
function halfTurn(probe: FundamentalProbe): number {
  const phase = Math.atan2(probe.cosine, probe.sine);
  if (phase > Math.PI / 2) return phase - Math.PI;
  return phase < -Math.PI / 2 ? phase + Math.PI : phase;
}
