import type { Clock } from '../hal.ts';
import { type Fault, type FaultOf, pickFaults } from './faults.ts';

/** A clock whose time of day jumps and drifts, and whose counter may run backwards once. */
export class FaultyClock implements Clock {
  readonly #clock: Clock;
  readonly #steps: FaultOf<'clock-step'>[];
  readonly #drifts: FaultOf<'clock-drift'>[];
  readonly #backwards: FaultOf<'clock-backwards'>[];

  constructor(clock: Clock, faults: readonly Fault[]) {
    this.#clock = clock;
    this.#steps = pickFaults(faults, 'clock-step');
    this.#drifts = pickFaults(faults, 'clock-drift');
    this.#backwards = pickFaults(faults, 'clock-backwards');
  }

  monotonicMicros(): number {
    const now = this.#clock.monotonicMicros();
    let micros = now;
    for (const fault of this.#backwards) if (now >= fault.from) micros -= fault.micros;
    return micros;
  }

  wallMicros(): number {
    const now = this.#clock.monotonicMicros();
    let micros = this.#clock.wallMicros();
    for (const fault of this.#steps) if (now >= fault.from) micros += fault.micros;
    for (const { from, to, ppm } of this.#drifts)
      if (now >= from) micros += ((Math.min(now, to) - from) * ppm) / 1e6;
    return Math.round(micros);
  }
}
