import type { AdcAbout } from '../hal.ts';
import {
  faintGroups,
  faintRatio,
  holdHops,
  hopMs,
  idleAtStartAmps,
  longestCaptureMs,
  releaseRatio,
  steadyAmps,
  steadyBand,
  steadyGroups,
  steadyHops,
  triggerRatio,
} from './limits.ts';

/**
 * Decides what is worth keeping: current over the machine's idle, in mean squares of counts over
 * 20 ms, every 10 ms. It is meant to be easily moved: the server looks for arcs in what it gets,
 * and must never miss one for the sensor's sake; a false alarm costs flash and air, no more.
 *
 * Idle falls quickly to what is seen and climbs slowly. A load that came and stays without a
 * flicker is taken for idle: after five seconds, or half a second where more was drawn before (a
 * machine that was switched on, or idles higher after its arc).
 */
export class Trigger {
  /** Whether current is over idle. */
  on = false;
  /** How far before the last frame pushed current rose or fell, when `on` has changed. */
  backFrames = 0;
  private readonly windowFrames: number;
  private readonly hopFrames: number;
  private readonly pairs: number;
  private readonly shift: number;
  /** Sums of squares, one a pair: of the hop being filled, the last, and idle as such a sum. */
  private readonly filling: Float64Array;
  private readonly last: Float64Array;
  private readonly idle: Float64Array;
  private readonly floor: Float64Array;
  private readonly group: Float64Array;
  private readonly groupLeast: Float64Array;
  private readonly groupMost: Float64Array;
  private readonly steadyMost: Float64Array;
  /** Highest level since current rose. */
  private readonly peak: Float64Array;
  private readonly squareAmps: Float64Array;
  private filled = 0;
  private hops = 0;
  private below = 0;
  private groups = 0;
  private onHops = 0;

  constructor(about: AdcAbout) {
    this.pairs = about.pairs;
    // Sixteen bits are enough to decide on, and keep the sums below 2^53.
    this.shift = Math.max(0, about.bits - 16);
    this.hopFrames = Math.round((about.rateHz * hopMs) / 1_000);
    this.windowFrames = 2 * this.hopFrames;
    const column = () => new Float64Array(about.pairs);
    this.filling = column();
    this.last = column();
    this.idle = column();
    this.floor = column();
    this.group = column();
    this.groupLeast = column().fill(Number.POSITIVE_INFINITY);
    this.groupMost = column();
    this.steadyMost = column();
    this.peak = column();
    this.squareAmps = column();
    for (let pair = 0; pair < about.pairs; pair++) {
      const ampsPerCount = about.scale[2 * pair + 1]! * 2 ** this.shift;
      this.squareAmps[pair] = this.windowFrames / ampsPerCount ** 2;
      this.idle[pair] = idleAtStartAmps ** 2 * this.squareAmps[pair]!;
      this.steadyMost[pair] = steadyAmps ** 2 * this.squareAmps[pair]!;
    }
  }

  setAmps(triggerAmps: number): void {
    for (let pair = 0; pair < this.pairs; pair++)
      this.floor[pair] = triggerAmps ** 2 * this.squareAmps[pair]!;
  }

  /** Frames lost: what was summed is worth nothing; idle is remembered. */
  restart(): void {
    this.filling.fill(0);
    this.last.fill(0);
    this.filled = 0;
    this.hops = 0;
    this.restartGroups();
    this.group.fill(0);
  }

  /** Frames until the next decision: push no more at once. */
  get wants(): number {
    return this.hopFrames - this.filled;
  }

  /** Takes `frames` interleaved frames from frame `from` on; at most `wants`. */
  push(counts: Int32Array, from: number, frames: number): void {
    const stride = 2 * this.pairs;
    for (let pair = 0; pair < this.pairs; pair++) {
      let sum = 0.0;
      const end = (from + frames) * stride;
      for (let at = from * stride + 2 * pair + 1; at < end; at += stride) {
        const count = counts[at]! >> this.shift;
        sum += count * count;
      }
      this.filling[pair] = this.filling[pair]! + sum;
    }
    this.filled += frames;
    if (this.filled >= this.hopFrames) this.decide();
  }

  private decide(): void {
    this.filled = 0;
    this.hops++;
    if (this.hops >= 2) {
      let rises = false;
      let falls = true;
      for (let pair = 0; pair < this.pairs; pair++) {
        const level = this.filling[pair]! + this.last[pair]!;
        const floor = this.floor[pair]!;
        const idle = this.idle[pair]!;
        if (level > idle * triggerRatio + floor) rises = true;
        if (level > idle * releaseRatio + floor / 4) falls = false;
        this.peak[pair] = Math.max(this.peak[pair]!, level);
      }
      this.turn(rises, falls);
    }
    for (let pair = 0; pair < this.pairs; pair++) {
      const level = this.filling[pair]! + this.last[pair]!;
      if (this.hops >= 2 && (!this.on || level < this.idle[pair]!)) this.follow(pair, level);
      this.group[pair] = this.group[pair]! + this.filling[pair]!;
      this.last[pair] = this.filling[pair]!;
      this.filling[pair] = 0;
    }
    if (this.hops % steadyHops === 0) this.closeGroup();
  }

  private turn(rises: boolean, falls: boolean): void {
    if (!this.on) {
      this.on = rises;
      this.below = 0;
      this.onHops = 0;
      this.backFrames = this.windowFrames;
      if (rises) this.restartGroups();
      else this.peak.fill(0);
      return;
    }
    this.onHops++;
    this.below = falls ? this.below + 1 : 0;
    if (this.below >= holdHops) {
      this.on = false;
      this.backFrames = holdHops * this.hopFrames;
    } else if (this.onHops * hopMs >= longestCaptureMs) this.adopt(this.peak, 1);
  }

  private follow(pair: number, level: number): void {
    const idle = this.idle[pair]!;
    this.idle[pair] = idle + (level - idle) / (level < idle ? 4 : 512);
  }

  /** Whole half cycles at 50 and at 60 Hz: what is steady reads the same in every group. */
  private closeGroup(): void {
    let steady = true;
    let faint = true;
    for (let pair = 0; pair < this.pairs; pair++) {
      const sum = this.group[pair]!;
      this.groupLeast[pair] = Math.min(this.groupLeast[pair]!, sum);
      this.groupMost[pair] = Math.max(this.groupMost[pair]!, sum);
      const asWindow = (this.groupMost[pair]! * 2) / steadyHops;
      const flickers = this.groupMost[pair]! > this.groupLeast[pair]! * steadyBand;
      const tells = asWindow > this.floor[pair]!;
      if (asWindow > this.steadyMost[pair]! || (tells && flickers)) steady = false;
      if (asWindow > this.peak[pair]! / faintRatio) faint = false;
    }
    this.groups++;
    if (!steady) this.restartGroups();
    else if (this.on && this.groups >= (faint ? faintGroups : steadyGroups))
      this.adopt(this.group, 2 / steadyHops);
    this.group.fill(0);
  }

  private restartGroups(): void {
    this.groups = 0;
    this.groupLeast.fill(Number.POSITIVE_INFINITY);
    this.groupMost.fill(0);
  }

  private adopt(sums: Float64Array, factor: number): void {
    for (let pair = 0; pair < this.pairs; pair++) this.idle[pair] = sums[pair]! * factor;
    this.on = false;
    this.backFrames = this.groups * steadyHops * this.hopFrames;
    this.restartGroups();
  }
}
