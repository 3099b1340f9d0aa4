import type { Hertz, SampleIndex } from '../units.ts';
import { CycleSync } from './cycle-sync.ts';
import { edgeSample } from './edge-sample.ts';
import { addSquares } from './half-cycle-sums.ts';
import type { ChannelReading } from './row.ts';
import type { SampleWindow } from './sample-window.ts';
import { SplitBorder } from './split-border.ts';

/** Places in a channel's sums: the half cycle before, the newest, the newest border's tail. */
const before = 0;
const newest = 1;
const tail = 2;

/**
 * Every voltage of several by its own zero crossings. A short dip that begins at the second
 * phase's crossing reads too shallow through a window that the first phase's crossings border.
 *
 * Whichever half cycle is foretold to end first is measured first, and waited for: the order of
 * the readings is the same however the stream was cut.
 */
export class OwnCrossings {
  readonly #channels: readonly Channel[];
  readonly #tell: (reading: ChannelReading) => void;

  constructor(
    window: SampleWindow,
    setup: { rateHz: Hertz; pairs: number; nominalHertz: 50 | 60 | null },
    tell: (reading: ChannelReading) => void,
  ) {
    const { rateHz, pairs, nominalHertz } = setup;
    this.#channels = Array.from(
      { length: pairs },
      (_, pair) => new Channel(window, new CycleSync(window, rateHz, nominalHertz, [pair]), pair),
    );
    this.#tell = tell;
  }

  /** Oldest position whose sample is still to be summed. */
  get oldestNeeded(): number {
    let oldest = Number.POSITIVE_INFINITY;
    for (const { sync } of this.#channels) oldest = Math.min(oldest, sync.border);
    return Math.floor(oldest) - 2;
  }

  /** Begins in a window full enough; a dead voltage runs on half cycles of `half` samples. */
  acquire(half: number): void {
    for (const channel of this.#channels) {
      channel.sync.acquire(half);
      channel.begin();
    }
  }

  /** Starts anew on a cleared window, `past` positions further on. */
  restart(past: number): void {
    for (const { sync } of this.#channels) sync.restart(sync.border - past);
  }

  /** After `restart`: gives its memory back until samples come. */
  rest(): void {
    for (const { sync } of this.#channels) sync.rest();
  }

  /** Takes what is new in the window. */
  take(): void {
    for (const { sync } of this.#channels) sync.take();
  }

  /** Tells what is foretold to end before `border`; false where its samples are still to come. */
  tellBefore(border: number, base: SampleIndex): boolean {
    for (;;) {
      const channel = this.#first();
      if (channel.foretold >= border) return true;
      if (!channel.sync.ready) return false;
      channel.sync.advance();
      this.#measure(channel, base);
    }
  }

  /** The stream's end: the same without waiting, on foretold borders where it must. */
  endBefore(border: number, base: SampleIndex): void {
    for (;;) {
      const channel = this.#first();
      if (channel.foretold >= border) return;
      if (channel.sync.ready) channel.sync.advance();
      else channel.sync.foretell();
      this.#measure(channel, base);
    }
  }

  #first(): Channel {
    let first = this.#channels[0]!;
    for (const channel of this.#channels) if (channel.foretold < first.foretold) first = channel;
    return first;
  }

  #measure(channel: Channel, base: SampleIndex): void {
    if (channel.measure(base)) this.#tell(channel.reading);
  }
}

/** Squares of one voltage over its newest two half cycles. */
class Channel {
  readonly sync: CycleSync;
  readonly reading: ChannelReading;
  readonly #window: SampleWindow;
  readonly #volts: number;
  readonly #sums = new Float64Array(3);
  #from = new SplitBorder();
  #to = new SplitBorder();
  #halves = 0;

  constructor(window: SampleWindow, sync: CycleSync, pair: number) {
    this.#window = window;
    this.#volts = 2 * pair;
    this.sync = sync;
    this.reading = { pair, start: 0.0, middle: 0.0, end: 0.0, hertz: 50.0, urms: 0.0, uhalf: 0.0 };
  }

  /** Where its next half cycle is expected to end. */
  get foretold(): number {
    return this.sync.border + this.sync.half;
  }

  begin(): void {
    this.#halves = 0;
    this.#to.place(this.sync.border);
    this.#placeTail();
  }

  /** Takes the half cycle up to the sync's border; false while there is no whole cycle yet. */
  measure(base: SampleIndex): boolean {
    const sums = this.#sums;
    const start = this.#from.position;
    const middle = this.#to;
    this.#to = this.#from;
    this.#from = middle;
    this.#to.place(this.sync.border);
    const { origin, end } = this.#window;
    sums[before] = sums[newest]!;
    const to = Math.min(this.#to.sample + 1, end) - origin;
    addSquares(this.#window.columns[this.#volts]!, middle.sample + 1 - origin, to, sums, newest);
    sums[newest] = sums[newest]! - sums[tail]!;
    this.#placeTail();
    // Interpolation between silence and a step may undershoot by a hair.
    sums[newest] = Math.max(0, sums[newest]! + sums[tail]!);
    this.#halves += 1;
    if (this.#halves < 2) return false;
    const { reading } = this;
    reading.start = base + start;
    reading.middle = base + middle.position;
    reading.end = base + this.#to.position;
    reading.hertz = this.sync.hertz;
    reading.uhalf = Math.sqrt(sums[newest]! / (reading.end - reading.middle));
    reading.urms = Math.sqrt((sums[before]! + sums[newest]!) / (reading.end - reading.start));
    return true;
  }

  #placeTail(): void {
    const { origin } = this.#window;
    const last = this.#window.end - 1 - origin;
    const k = this.#to.sample - origin;
    const column = this.#window.columns[this.#volts]!;
    let sum = 0.0;
    for (let n = 0; n < 3; n++) {
      const volts = edgeSample(column, k + n, last);
      sum += this.#to.weight(n) * volts * volts;
    }
    this.#sums[tail] = sum;
  }
}
