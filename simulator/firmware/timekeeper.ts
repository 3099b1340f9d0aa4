import type { EpochMicros, Hertz, SampleIndex } from '../../shared/units.ts';
import type { AdcBlock, Clock } from '../hal.ts';
import { clockEveryMs, clockStepMicros } from './limits.ts';

/**
 * Says when a sample was taken. Time runs on the monotonic counter; the time of day sets where it
 * starts, and is compared with it once a second: a jump is counted, drift is told. While an arc is
 * captured the two are not brought together, so times within it never jump.
 *
 * Once the server has told the time, its word counts and the board's time of day no longer.
 */
export class Timekeeper {
  steps = 0;
  /** Drift of the time of day (the server's, once it told it) against the counter. */
  driftPpm = 0.0;
  /** What the server's last word moved the time by. */
  correctionMicros = 0.0;
  private readonly clock: Clock;
  private readonly rateHz: Hertz;
  /** Time of day less counter: in use, and as last seen. */
  private base = 0.5;
  private seen = 0.5;
  private told = false;
  private toldAt = 0.5;
  private last = 0.5;
  private checkedAt = 0.5;
  private anchorSample = 0.0;
  private anchorMicros = 0.5;

  constructor(clock: Clock, rateHz: Hertz) {
    this.clock = clock;
    this.rateHz = rateHz;
    this.last = clock.monotonicMicros();
    this.checkedAt = this.last;
    this.seen = clock.wallMicros() - this.last;
    this.base = this.seen;
    this.anchorMicros = this.last;
  }

  /** The counter, which never runs backwards from here on, whatever it does. */
  now(): number {
    const micros = this.clock.monotonicMicros();
    if (micros < this.last) {
      // Time stands still until the counter is past the place where it was.
      if (this.last - micros > clockStepMicros) {
        this.steps++;
        this.last = micros;
        this.checkedAt = Math.min(this.checkedAt, micros);
      }
      return this.last;
    }
    this.last = micros;
    return micros;
  }

  /** Compares the clocks, when a second has passed. */
  check(now: number, capturing: boolean): void {
    const elapsed = now - this.checkedAt;
    if (elapsed < clockEveryMs * 1_000) return;
    this.checkedAt = now;
    const seen = this.clock.wallMicros() - now;
    const moved = seen - this.seen;
    this.seen = seen;
    if (Math.abs(moved) > clockStepMicros) this.steps++;
    else if (!this.told) this.driftPpm += ((moved / elapsed) * 1e6 - this.driftPpm) / 16;
    if (!capturing && !this.told) this.base = this.seen;
  }

  /** The server's word: `micros` is its time now. */
  tell(now: number, micros: EpochMicros): void {
    const correction = micros - (this.base + now);
    if (this.told && now > this.toldAt) this.driftPpm = (correction / (now - this.toldAt)) * 1e6;
    this.correctionMicros = correction;
    this.base += correction;
    this.told = true;
    this.toldAt = now;
  }

  /** A block's first sample and the counter at it. */
  anchor(block: AdcBlock): void {
    this.anchorSample = block.first;
    this.anchorMicros = block.micros;
  }

  at(now: number): EpochMicros {
    return Math.max(0, Math.round(this.base + now));
  }

  ofSample(sample: SampleIndex): EpochMicros {
    return this.at(this.anchorMicros + ((sample - this.anchorSample) * 1e6) / this.rateHz);
  }
}
