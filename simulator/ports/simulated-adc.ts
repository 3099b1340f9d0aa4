import type { Point } from '../electrics/index.ts';
import type { Adc, AdcAbout, AdcBlock, Clock } from '../hal.ts';
import { FramePace } from './frame-pace.ts';

/** A converter that looks at a point of the simulated plant. */
export class SimulatedAdc implements Adc {
  readonly about: AdcAbout;
  readonly #point: Point;
  readonly #pace: FramePace;

  constructor(point: Point, clock: Clock) {
    const { pairs, rateHz, bits, voltsPerCount, ampsPerCount } = point.about;
    const scale = voltsPerCount.flatMap((volts, pair) => [volts, ampsPerCount[pair]!]);
    this.about = { pairs, rateHz, bits, scale };
    this.#point = point;
    this.#pace = new FramePace(clock, rateHz);
  }

  /** What a buffer that ran over has lost is not simulated: the plant stands still for it. */
  read(into: Int32Array, block: AdcBlock): void {
    this.#pace.take(block, Math.floor(into.length / (2 * this.about.pairs)));
    if (block.frames > 0) this.#point.read(into, block.frames);
  }
}
