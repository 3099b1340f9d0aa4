import type { Clock } from '../hal.ts';

/**
 * The host's clock, `speed` times as fast from the start on. It stands still between two `turn`s,
 * so that all sensors of a process see the same moment in one round of ticks.
 */
export class RealClock implements Clock {
  readonly #speed: number;
  readonly #startedMs = performance.now();
  readonly #startedWallMicros = Date.now() * 1_000;
  #micros = 0.0;

  constructor(speed = 1) {
    this.#speed = speed;
  }

  turn(): void {
    this.#micros = Math.floor((performance.now() - this.#startedMs) * this.#speed * 1_000);
  }

  monotonicMicros(): number {
    return this.#micros;
  }

  wallMicros(): number {
    return this.#startedWallMicros + this.#micros;
  }
}
