import type { AdcBlock, Clock } from '../hal.ts';

/**
 * When frames are due at a converter that runs by a clock, and how many its buffer had to drop.
 * Ten seconds of buffer: a busy host's pause is no fault of the sensor that it plays.
 */
export class FramePace {
  readonly #clock: Clock;
  readonly #rateHz: number;
  readonly #startedMicros: number;
  readonly #bufferFrames: number;
  #taken = 0;

  constructor(clock: Clock, rateHz: number, bufferSeconds = 10) {
    this.#clock = clock;
    this.#rateHz = rateHz;
    this.#startedMicros = clock.monotonicMicros();
    this.#bufferFrames = Math.ceil(rateHz * bufferSeconds);
  }

  /** Fills `block` with what may be read now, at most `most` frames, and counts it as taken. */
  take(block: AdcBlock, most: number): void {
    const elapsed = this.#clock.monotonicMicros() - this.#startedMicros;
    const due = Math.floor((elapsed * this.#rateHz) / 1e6) - this.#taken;
    block.lost = Math.max(0, due - this.#bufferFrames);
    this.#taken += block.lost;
    block.frames = Math.max(0, Math.min(due - block.lost, most));
    block.first = this.#taken;
    block.micros = this.#startedMicros + (this.#taken * 1e6) / this.#rateHz;
    this.#taken += block.frames;
  }

  /** Frames that were announced and are not there: the source has ended. */
  untake(block: AdcBlock, frames: number): void {
    this.#taken -= block.frames - frames;
    block.frames = frames;
  }
}
