import type { AdcAbout } from '../hal.ts';
import { lookOverMs } from './limits.ts';

/** Bits of a wave's `flags`, and of `health.flags`: what makes its counts doubtful. */
export const flag = { clipped: 1, stuckBit: 2, dropout: 4, swapped: 8 } as const;

/** An offset changes when it is off by more than this: half a count would flip at each look. */
const hysteresisCounts = 0.75;
/** Parts of full scale beyond which an offset is a defect and is left alone. */
const offsetMost = 1 / 100;
/** A pair whose voltage is below the first and current above the second part of full scale has its
 * leads crossed: no current flows without a voltage. */
const crossedVolts = 1 / 50;
const crossedAmps = 1 / 5;
/** A signal of fewer counts than this peak to peak tells nothing of single bits. */
const faintCounts = 256;

/**
 * Looks the channels over, a second at a time: stops reached, bits that never move, a channel that
 * stands still, leads crossed; and learns each channel's offset at rest, since mains has no direct
 * voltage. The mean is weighted by a triangle over two looks: what is left of a sine that does not
 * fit it whole is below 10^-5, against 10^-3 of a plain mean.
 */
export class ChannelWatch {
  /** Flags of the last look; `clipped` of the one that runs as well. */
  flags = 0;
  clippedCounts = 0;
  stuckLooks = 0;
  dropoutLooks = 0;
  swappedLooks = 0;
  /** Whole counts that are taken off each channel. */
  readonly offsets: Int32Array;
  private readonly channels: number;
  private readonly top: number;
  private readonly bottom: number;
  private readonly lookFrames: number;
  private readonly ones: Int32Array;
  private readonly zeros: Int32Array;
  private readonly least: Int32Array;
  private readonly most: Int32Array;
  private readonly weighted: Float64Array;
  private seen = 0;
  private weightAt = 0;
  private rested = true;

  constructor(about: AdcAbout) {
    this.channels = 2 * about.pairs;
    this.top = 2 ** (about.bits - 1) - 1;
    this.bottom = -(2 ** (about.bits - 1));
    this.lookFrames = Math.round((about.rateHz * lookOverMs) / 1_000);
    this.offsets = new Int32Array(this.channels);
    this.ones = new Int32Array(this.channels);
    this.zeros = new Int32Array(this.channels);
    this.least = new Int32Array(this.channels);
    this.most = new Int32Array(this.channels);
    this.weighted = new Float64Array(this.channels);
    this.restartLook();
  }

  /** Looks at raw counts and takes the offsets off in place; counts at a stop stay there. */
  push(counts: Int32Array, frames: number, atRest: boolean): void {
    if (!atRest) this.rested = false;
    for (let channel = 0; channel < this.channels; channel++) this.column(counts, frames, channel);
    this.seen += frames;
    this.weightAt += frames;
    if (this.seen >= this.lookFrames) this.closeLook();
    if (this.weightAt >= 2 * this.lookFrames) this.learn();
  }

  /** Frames were lost: means and ranges begin anew. */
  restart(): void {
    this.restartLook();
    this.restartMean();
  }

  private column(counts: Int32Array, frames: number, channel: number): void {
    const { channels, top, bottom, lookFrames } = this;
    const offset = this.offsets[channel]!;
    let ones = this.ones[channel]!;
    let zeros = this.zeros[channel]!;
    let least = this.least[channel]!;
    let most = this.most[channel]!;
    let clipped = 0;
    let weighted = 0.0;
    let weight = this.weightAt;
    for (let at = channel; at < frames * channels; at += channels) {
      const count = counts[at]!;
      ones |= count;
      zeros |= ~count;
      if (count < least) least = count;
      if (count > most) most = count;
      weighted += count * Math.max(0, weight < lookFrames ? weight + 1 : 2 * lookFrames - weight);
      weight++;
      if (count >= top || count <= bottom) clipped++;
      else if (offset !== 0) counts[at] = Math.min(top - 1, Math.max(bottom + 1, count - offset));
    }
    this.ones[channel] = ones;
    this.zeros[channel] = zeros;
    this.least[channel] = least;
    this.most[channel] = most;
    this.weighted[channel] = this.weighted[channel]! + weighted;
    if (clipped === 0) return;
    this.clippedCounts += clipped;
    this.flags |= flag.clipped;
  }

  private closeLook(): void {
    let flags = 0;
    for (let channel = 0; channel < this.channels; channel++) {
      const volts = channel % 2 === 0;
      const moved = this.ones[channel]! & this.zeros[channel]!;
      if (moved === 0 && volts) flags |= flag.dropout;
      if (this.stuck(channel, moved)) flags |= flag.stuckBit;
      if (this.most[channel]! >= this.top || this.least[channel]! <= this.bottom)
        flags |= flag.clipped;
      if (volts && this.crossed(channel)) flags |= flag.swapped;
    }
    if (flags & flag.stuckBit) this.stuckLooks++;
    if (flags & flag.dropout) this.dropoutLooks++;
    if (flags & flag.swapped) this.swappedLooks++;
    this.flags = flags;
    this.restartLook();
  }

  /**
   * Between the lowest and the highest bit that moves, all must. Above is the sign; below, the
   * converter may have fewer bits than it is said to. A faint signal does not visit every code.
   */
  private stuck(channel: number, moved: number): boolean {
    if (this.most[channel]! - this.least[channel]! < faintCounts) return false;
    const between = (0x7fffffff >>> Math.clz32(moved >>> 1)) & -(moved & -moved);
    return (moved & between) !== between;
  }

  private crossed(channel: number): boolean {
    const volts = this.most[channel]! - this.least[channel]!;
    const amps = this.most[channel + 1]! - this.least[channel + 1]!;
    const span = this.top - this.bottom;
    return volts < span * crossedVolts && amps > span * crossedAmps;
  }

  private learn(): void {
    const weights = this.lookFrames * (this.lookFrames + 1);
    for (let channel = 0; channel < this.channels && this.rested; channel++) {
      const mean = this.weighted[channel]! / weights;
      const far = Math.abs(mean - this.offsets[channel]!) > hysteresisCounts;
      if (far && Math.abs(mean) < this.top * offsetMost) this.offsets[channel] = Math.round(mean);
    }
    this.restartMean();
  }

  private restartLook(): void {
    this.seen = 0;
    this.ones.fill(0);
    this.zeros.fill(0);
    this.least.fill(0x7fffffff);
    this.most.fill(-0x80000000);
  }

  private restartMean(): void {
    this.weightAt = 0;
    this.weighted.fill(0);
    this.rested = true;
  }
}
