import type { Adc, AdcAbout, AdcBlock, Clock } from '../../../simulator/hal.ts';
import { FramePace } from '../../../simulator/ports/frame-pace.ts';

/** Seconds of arc, of rest between them, and before the first. */
export interface Arcs {
  burnS: number;
  restS: number;
  firstS: number;
}

export const rateHz = 10_240;
const scale = [0.02, 0.005];
/** Ten cycles of 60 Hz in whole samples would need a common multiple: four seconds have one. */
const tableFrames = 4 * rateHz;
const wave = Float64Array.from({ length: tableFrames }, (_, n) =>
  Math.sin((2 * Math.PI * 60 * n) / rateHz),
);

/** 240 V that sags to 204 while an arc burns, and a welder that idles between. */
export class Outlet implements Adc {
  readonly about: AdcAbout = { pairs: 1, rateHz, bits: 16, scale };
  readonly #pace: FramePace;
  readonly #arcs: Arcs | null;
  readonly #struck: (frame: number) => void;
  #from = Number.POSITIVE_INFINITY;
  #to = Number.POSITIVE_INFINITY;
  #told = false;

  constructor(clock: Clock, arcs: Arcs | null, struck: (frame: number) => void) {
    this.#pace = new FramePace(clock, rateHz);
    this.#arcs = arcs;
    this.#struck = struck;
    if (arcs) this.#plan(Math.round(arcs.firstS * rateHz));
  }

  read(into: Int32Array, block: AdcBlock): void {
    this.#pace.take(block, Math.floor(into.length / 2));
    for (let n = 0; n < block.frames; n++) {
      const frame = block.first + n;
      if (frame >= this.#to) this.#plan(this.#to + Math.round(this.#arcs!.restS * rateHz));
      const burns = frame >= this.#from;
      if (burns && !this.#told) this.#struck(this.#from);
      this.#told = burns;
      const sine = wave[frame % tableFrames]!;
      const flutter = 1 + 0.1 * Math.sin(frame / 37);
      const amps = burns ? 31 * flutter * sine : 0.4 * sine;
      into[2 * n] = Math.round((340 * sine - 1.65 * amps) / scale[0]!);
      into[2 * n + 1] = Math.round(amps / scale[1]!);
    }
  }

  /** No whole number of half cycles apart, so that arcs strike at every phase. */
  #plan(from: number): void {
    this.#from = from + (from % 171);
    this.#to = this.#from + Math.round(this.#arcs!.burnS * rateHz);
  }
}
