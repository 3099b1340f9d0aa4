import type { About } from '../../../shared/protocol/messages.ts';
import type { Extremes, WaveEnvelope } from '../../../shared/protocol/wave-envelope.ts';
import type { SampleIndex } from '../../../shared/units.ts';
import type { Block } from '../store/store.ts';

interface Stretch {
  /** The arc's own, which times count from. */
  start: SampleIndex;
  from: SampleIndex;
  to: SampleIndex;
  /** Most bins. */
  bins: number;
}

/** Of each bin of a stretch the lowest and the highest sample, gathered block by block. */
export class EnvelopeSums {
  readonly #about: About;
  readonly #stretch: Stretch;
  readonly #binFrames: number;
  readonly #channels: Extremes[];

  constructor(about: About, stretch: Stretch) {
    this.#about = about;
    this.#stretch = stretch;
    const { from, to, bins } = stretch;
    this.#binFrames = Math.max(1, Math.ceil((to - from) / bins));
    const count = Math.ceil((to - from) / this.#binFrames);
    const column = () => new Float32Array(count).fill(Number.NaN);
    this.#channels = Array.from({ length: 2 * about.pairs }, () => ({
      low: column(),
      high: column(),
    }));
  }

  add({ first, n, data }: Block): void {
    const { from, to } = this.#stretch;
    const stride = this.#channels.length;
    const begin = Math.max(0, from - first);
    const end = Math.min(n, to - first);
    for (let channel = 0; channel < stride; channel++) {
      const { low, high } = this.#channels[channel]!;
      const scale = this.#about.scale[channel]!;
      for (let frame = begin; frame < end; frame++) {
        const bin = Math.floor((first + frame - from) / this.#binFrames);
        const value = data[frame * stride + channel]! * scale;
        // Written so that the NaN of an empty bin is replaced.
        if (!(low[bin]! <= value)) low[bin] = value;
        if (!(high[bin]! >= value)) high[bin] = value;
      }
    }
  }

  envelope(): WaveEnvelope {
    const { start, from } = this.#stretch;
    const { rate } = this.#about;
    return {
      binS: this.#binFrames / rate,
      startS: (from - start) / rate,
      volts: this.#channels.filter((_, channel) => channel % 2 === 0),
      amps: this.#channels.filter((_, channel) => channel % 2 === 1),
    };
  }
}
