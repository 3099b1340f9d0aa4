import type { EpochMicros } from '../../shared/units.ts';
import type { Clock } from '../hal.ts';

/** Time that passes when it is told to. */
export class VirtualClock implements Clock {
  #micros = 0.0;
  readonly #wallMicros: EpochMicros;

  constructor(wallMicros: EpochMicros = 1_700_000_000_000_000) {
    this.#wallMicros = wallMicros;
  }

  advance(micros: number): void {
    this.#micros += micros;
  }

  monotonicMicros(): number {
    return this.#micros;
  }

  wallMicros(): EpochMicros {
    return this.#wallMicros + this.#micros;
  }
}
