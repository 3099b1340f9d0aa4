import type { Clock } from '../hal.ts';

/** Most that time may pass between two turns when it runs faster than the host's. */
const turnMs = 100;
/** The host's time of day and its counter differ by more: someone set the clock, or it slept. */
const setMs = 250;

/**
 * The host's clock, or one `speed` times as fast from the start on. It stands still between two
 * turns, so that all sensors of a process see the same moment in one round of ticks. A faster clock
 * is no faster than the host can follow: it waits for a round that took long.
 */
export class RealClock implements Clock {
  readonly #speed: number;
  #turnedMs = performance.now();
  #micros = 0.0;
  /** Time of day at zero of the counter. */
  #wallMicros = Date.now() * 1_000;

  constructor(speed = 1) {
    this.#speed = speed;
  }

  turn(): void {
    const now = performance.now();
    const elapsed = now - this.#turnedMs;
    this.#turnedMs = now;
    const passed = this.#speed === 1 ? elapsed : Math.min(elapsed, turnMs) * this.#speed;
    this.#micros += passed * 1_000;
    if (this.#speed !== 1) return;
    const off = Date.now() - this.wallMicros() / 1_000;
    if (Math.abs(off) > setMs) this.#wallMicros += Math.round(off) * 1_000;
  }

  monotonicMicros(): number {
    return Math.floor(this.#micros);
  }

  wallMicros(): number {
    return this.#wallMicros + this.monotonicMicros();
  }
}
