import type { AdcAbout } from '../hal.ts';
import { CborWriter } from './cbor-writer.ts';
import { type ChannelWatch, flag } from './channel-watch.ts';
import { type FlashRing, recordHead } from './flash-ring.ts';
import { History } from './history.ts';
import {
  blockFrames,
  blocksPerRead,
  payloadBytes,
  preTriggerMs,
  promptMs,
  promptSpanMs,
} from './limits.ts';
import type { Notebook } from './notebook.ts';
import {
  type CaptureAction,
  type CaptureEvent,
  type CaptureState,
  captureTable,
} from './states.ts';
import type { Timekeeper } from './timekeeper.ts';
import { Trigger } from './trigger.ts';

/** Kinds of record in the ring; the courier turns them into topics. */
export const recordKind = { arc: 1, wave: 2 } as const;

/**
 * Frames in, numbered records out: watches for arcs, and writes each to flash with half a second
 * before it and after. Arcs closer than that share one capture.
 */
export class Recorder {
  state: CaptureState = 'watching';
  /** Blocks that flash would not take; their frames are told as lost by the next. */
  refused = 0;
  private readonly history: History;
  private readonly trigger: Trigger;
  private readonly watch: ChannelWatch;
  private readonly ring: FlashRing;
  private readonly time: Timekeeper;
  private readonly notebook: Notebook;
  private readonly writer: CborWriter;
  private readonly rateHz: number;
  private readonly top: number;
  private readonly preFrames: number;
  private readonly promptFrames: number;
  private readonly promptSpan: number;
  /** Where current rose last. */
  private rose = 0.0;
  /** Next frame that goes to flash; in a capture, all before it did. */
  private next = 0.0;
  private captureEnd = 0.0;
  private lost = 0.0;
  /** Index of the first frame after the last tear, and how many were lost there. */
  private tornAt = 0.0;
  private tornFrames = 0.0;
  private arc = 0;
  private started = false;

  constructor(
    about: AdcAbout,
    watch: ChannelWatch,
    ring: FlashRing,
    time: Timekeeper,
    notebook: Notebook,
  ) {
    this.writer = new CborWriter(payloadBytes(about.pairs, about.bits), recordHead);
    this.history = new History(about);
    this.trigger = new Trigger(about);
    this.trigger.setAmps(notebook.settings.triggerAmps);
    this.watch = watch;
    this.ring = ring;
    this.time = time;
    this.notebook = notebook;
    this.rateHz = about.rateHz;
    this.top = 2 ** (about.bits - 1) - 1;
    this.preFrames = Math.ceil((about.rateHz * preTriggerMs) / 1_000);
    this.promptFrames = Math.min(blockFrames, Math.ceil((about.rateHz * promptMs) / 1_000));
    this.promptSpan = (about.rateHz * promptSpanMs) / 1_000;
  }

  /** Index of the frame to come. */
  get sample(): number {
    return this.history.end;
  }

  /** A setting may have changed. */
  settingsChanged(): void {
    this.trigger.setAmps(this.notebook.settings.triggerAmps);
  }

  /** Takes the frames of one read: `counts` corrected, `first` the index of the first of them. */
  push(counts: Int32Array, frames: number, first: number): void {
    if (first !== this.history.end || !this.started) this.tear(first);
    this.history.push(counts, frames);
    for (let done = 0; done < frames; ) {
      const part = Math.min(frames - done, this.trigger.wants);
      const was = this.trigger.on;
      this.trigger.push(counts, done, part);
      done += part;
      if (this.trigger.on !== was) this.edge(first + done);
    }
    this.pump(blocksPerRead);
    if (this.state === 'trailing' && this.next >= this.captureEnd) this.step('passed', this.next);
  }

  /** Writes out what a capture still holds, and ends it. */
  halt(): void {
    this.step('halted', this.history.end);
  }

  private edge(at: number): void {
    this.step(this.trigger.on ? 'rose' : 'fell', at - this.trigger.backFrames);
  }

  private tear(first: number): void {
    const missing = this.started ? Math.max(0, first - this.history.end) : 0;
    this.step('torn', this.history.end);
    if (this.state !== 'watching') this.lost += missing;
    this.tornAt = first;
    this.tornFrames = missing;
    this.history.restart(first);
    this.trigger.restart();
    this.next = first;
    this.started = true;
  }

  private step(event: CaptureEvent, sample: number): void {
    const { to, act } = captureTable[this.state][event];
    this.act(act, Math.max(sample, this.history.first));
    this.state = to;
  }

  private act(action: CaptureAction, sample: number): void {
    if (action === 'open') {
      // What the capture before has written is not written again.
      this.next = Math.max(this.next, this.history.first, sample - this.preFrames);
      // A capture that would reach back beyond a tear says so by its first block.
      this.lost = this.next === this.tornAt ? this.tornFrames : 0;
    }
    if (action === 'open' || action === 'begin') {
      this.rose = sample;
      this.arcEdge('began', ++this.arc, sample);
    }
    if (action === 'end' || action === 'end-close') {
      this.arcEdge('ended', this.arc, sample);
      const post = (this.notebook.settings.postTriggerMs * this.rateHz) / 1_000;
      this.captureEnd = sample + Math.ceil(post);
    }
    if ((action === 'flush' && this.state !== 'watching') || action === 'end-close')
      this.pump(Number.POSITIVE_INFINITY, true);
    if (action === 'close' && this.next < this.history.end && this.next < this.captureEnd)
      this.pump(Number.POSITIVE_INFINITY, true);
  }

  /** Writes blocks that wait, `most` at the most; the last of a capture may be shorter. */
  private pump(most: number, all = false): void {
    if (this.state === 'watching') return;
    const ends = this.state === 'trailing' && !all;
    const upTo = ends ? Math.min(this.history.end, this.captureEnd) : this.history.end;
    const complete = all || (ends && upTo === this.captureEnd);
    for (let blocks = 0; blocks < most && this.next < upTo; blocks++) {
      const frames = Math.min(blockFrames, upTo - this.next);
      if (frames < this.leastFrames(frames) && !complete) return;
      this.block(frames);
    }
  }

  /** A block is full, but where an arc's first moments are in it. */
  private leastFrames(frames: number): number {
    const first = this.next + frames > this.rose && this.next < this.rose + this.promptSpan;
    return first && this.state === 'capturing' ? this.promptFrames : blockFrames;
  }

  private block(frames: number): void {
    const { writer, history, next } = this;
    const clipped = history.atStops(next, frames, -this.top - 1, this.top);
    const flags = (this.watch.flags & ~flag.clipped) | (clipped ? flag.clipped : 0);
    writer.reset();
    writer.map(9);
    writer.entry('v', 1);
    writer.entry('boot', this.notebook.boot);
    writer.entry('seq', this.ring.newest + 1);
    writer.entry('first', next);
    writer.entry('time', this.time.ofSample(next));
    writer.entry('n', frames);
    writer.entry('lost', this.lost);
    writer.entry('flags', flags);
    writer.text('data');
    history.write(writer, next, frames);
    if (this.ring.append(recordKind.wave, writer.bytes, writer.length)) this.lost = 0;
    else {
      this.refused++;
      this.lost += frames;
    }
    this.next += frames;
  }

  private arcEdge(what: 'began' | 'ended', arc: number, sample: number): void {
    const { writer } = this;
    writer.reset();
    writer.map(7);
    writer.entry('v', 1);
    writer.entry('boot', this.notebook.boot);
    writer.entry('seq', this.ring.newest + 1);
    writer.entry('arc', arc);
    writer.text('what');
    writer.text(what);
    writer.entry('sample', sample);
    writer.entry('time', this.time.ofSample(sample));
    if (!this.ring.append(recordKind.arc, writer.bytes, writer.length)) this.refused++;
  }
}
