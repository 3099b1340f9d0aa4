import type { Adc, AdcAbout, AdcBlock, Clock } from '../hal.ts';
import { type Fault, type FaultOf, faultHolds, pickFaults } from './faults.ts';

/** A converter with faults; `clock` is the board's true counter. */
export class FaultyAdc implements Adc {
  readonly about: AdcAbout;
  readonly #adc: Adc;
  readonly #clock: Clock;
  readonly #faults: FaultOf<AdcFault>[];
  readonly #overruns: Set<FaultOf<'adc-overrun'>>;
  readonly #drain: Int32Array;
  readonly #held: Int32Array;

  constructor(adc: Adc, clock: Clock, faults: readonly Fault[]) {
    this.about = adc.about;
    this.#adc = adc;
    this.#clock = clock;
    this.#faults = pickFaults(faults, ...adcFaults);
    this.#overruns = new Set(pickFaults(faults, 'adc-overrun'));
    this.#drain = new Int32Array(256 * adc.about.scale.length);
    this.#held = new Int32Array(adc.about.scale.length);
  }

  read(into: Int32Array, block: AdcBlock): void {
    const now = this.#clock.monotonicMicros();
    const lost = this.#overrun(now, block);
    this.#adc.read(into, block);
    block.lost += lost;
    for (const fault of this.#faults)
      if (faultHolds(fault, now)) this.#spoil(fault, into, block);
      else if (fault.kind === 'adc-dropout' && block.frames > 0)
        this.#held[fault.channel] = into[fault.channel]!;
  }

  /** Throws frames away as a buffer that ran over does; answers how many. */
  #overrun(now: number, block: AdcBlock): number {
    let lost = 0;
    for (const fault of this.#overruns) {
      if (now < fault.from) continue;
      this.#overruns.delete(fault);
      const width = this.about.scale.length;
      while (lost < fault.frames) {
        const part = Math.min(fault.frames - lost, this.#drain.length / width);
        this.#adc.read(this.#drain.subarray(0, part * width), block);
        if (block.frames === 0) break;
        lost += block.frames;
      }
    }
    return lost;
  }

  #spoil(fault: FaultOf<AdcFault>, into: Int32Array, block: AdcBlock): void {
    const width = this.about.scale.length;
    const top = 2 ** (this.about.bits - 1) - 1;
    if (fault.kind === 'adc-silent') block.frames = 0;
    for (let frame = 0; frame < block.frames; frame++) {
      const at = frame * width + ('channel' in fault ? fault.channel : 0);
      const count = into[at]!;
      if (fault.kind === 'adc-stuck-bit') into[at] = count | (1 << fault.bit);
      else if (fault.kind === 'adc-dropout') into[at] = this.#held[fault.channel]!;
      else if (fault.kind === 'adc-clip')
        into[at] = Math.max(-top - 1, Math.min(top, Math.round(count * fault.gain)));
      else if (fault.kind === 'adc-swapped') {
        const volts = frame * width + 2 * fault.pair;
        const swap = into[volts]!;
        into[volts] = into[volts + 1]!;
        into[volts + 1] = swap;
      }
    }
  }
}

const adcFaults = [
  'adc-stuck-bit',
  'adc-dropout',
  'adc-clip',
  'adc-swapped',
  'adc-silent',
] as const;
type AdcFault = (typeof adcFaults)[number];
