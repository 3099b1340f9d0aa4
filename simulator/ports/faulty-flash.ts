import type { Clock, Flash } from '../hal.ts';
import { type Fault, type FaultOf, faultHolds, pickFaults } from './faults.ts';

/** Thrown where the power fails: nothing of the firmware runs on. */
export class PowerCut extends Error {
  override name = 'PowerCut';
}

/** Flash that fails to write for a time, or loses power in the middle of its nth write. */
export class FaultyFlash implements Flash {
  readonly sectors: number;
  readonly sectorBytes: number;
  readonly pageBytes: number;
  /** Programs and erases so far. */
  writes = 0;
  readonly #flash: Flash;
  readonly #clock: Clock;
  readonly #errors: FaultOf<'flash-error'>[];
  readonly #cuts: FaultOf<'flash-power-cut'>[];

  constructor(flash: Flash, clock: Clock, faults: readonly Fault[]) {
    this.sectors = flash.sectors;
    this.sectorBytes = flash.sectorBytes;
    this.pageBytes = flash.pageBytes;
    this.#flash = flash;
    this.#clock = clock;
    this.#errors = pickFaults(faults, 'flash-error');
    this.#cuts = pickFaults(faults, 'flash-power-cut');
  }

  read(address: number, into: Uint8Array, length: number): boolean {
    return this.#flash.read(address, into, length);
  }

  program(address: number, bytes: Uint8Array, from: number, length: number): boolean {
    // A torn write leaves a part of the bytes.
    if (this.#cut()) {
      this.#flash.program(address, bytes, from, this.writes % length);
      throw new PowerCut();
    }
    if (!this.#broken()) return this.#flash.program(address, bytes, from, length);
    this.#flash.program(address, bytes, from, length >> 1);
    return false;
  }

  erase(sector: number): boolean {
    if (this.#cut()) {
      // Half of the erases are done when the power fails, of the others nothing is to be seen.
      if (this.writes % 2 === 0) this.#flash.erase(sector);
      throw new PowerCut();
    }
    return !this.#broken() && this.#flash.erase(sector);
  }

  #cut(): boolean {
    const write = this.writes++;
    return this.#cuts.some((cut) => cut.write === write);
  }

  #broken(): boolean {
    const now = this.#clock.monotonicMicros();
    return this.#errors.some((fault) => faultHolds(fault, now));
  }
}
