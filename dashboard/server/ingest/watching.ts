import { assert } from '../../../shared/assert.ts';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { ArcWeld } from '../../../shared/protocol/jobs.ts';
import type { OtherLoad, Sag } from '../../../shared/protocol/judgement.ts';
import { type About, waveFramesMost } from '../../../shared/protocol/messages.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import { placed } from '../../../shared/rules/place.ts';
import type { EpochMicros, SampleIndex } from '../../../shared/units.ts';
import type {
  RowBatch,
  WatchEvents,
  WatchedArc,
  WatchSetup,
  Welding,
} from '../../../shared/watch/contract.ts';
import { limits } from '../limits.ts';
import type { WeldingAt } from '../live/welding-at.ts';
import { joinRows, rowAfter, sliceRows } from '../store/columns.ts';
import { scaled } from '../store/scaled.ts';
import type { Block } from '../store/store.ts';

/** What this room asks of a watch; `Watch` of shared/watch is one. */
export interface WatchLike {
  push(channels: Float64Array[], frames: number): void;
  skip(frames: number, why: 'quiet' | 'lost'): void;
  /** What the arc that has just begun is held against. */
  welds(welding: Welding): void;
  end(): void;
}
export type MakeWatch = (setup: WatchSetup, events: WatchEvents) => WatchLike;

/** What hangs on a sensor, and which version of each that is. */
export interface Assigned {
  plate: Plate | null;
  circuit: Circuit | null;
  plateVersion: number | null;
  circuitVersion: number | null;
  /** The stored circuit's number. */
  circuitId: number | null;
}

/** What a watching tells; places are samples of the boot. */
export interface WatchingEvents {
  rows(batch: RowBatch): void;
  arcBegan(start: SampleIndex): void;
  arcGoesOn(arc: WatchedArc): void;
  arcEnded(arc: WatchedArc): void;
  sag(sag: Sag, start: SampleIndex): void;
  weldingAt(startedUs: EpochMicros): WeldingAt | null;
  otherLoad(event: OtherLoad, at: SampleIndex): void;
}

const nothingSetUp: Welding = { work: null, coupon: null, couponNote: null };

/**
 * One watch over one boot's stream: turns counts into volts and amperes, tells the watch what was
 * left out and why, and turns its places into the boot's.
 */
export class Watching {
  readonly boot: number;
  readonly assigned: Assigned;
  readonly about: About;
  /** Begin of the arc that burns now; null between arcs. */
  arcSince: SampleIndex | null = null;
  /** Where the last quiet began: no arc reaches over it. */
  quietFrom: SampleIndex = 0;
  /** The job of the arc that burns now, or that burned last. */
  weld: ArcWeld | null = null;
  readonly #watch: WatchLike;
  readonly #events: WatchingEvents;
  /** Sample of the boot that is the watch's first. */
  readonly #base: SampleIndex;
  #expected: SampleIndex;
  /** A place and its time, from the newest block: the sensor's clock is set while it runs. */
  #anchor: { sample: SampleIndex; time: EpochMicros };
  /** Rows gathered for one chunk of the store. */
  #rows: RowBatch[] = [];
  #rowCount = 0;
  #rowsThrough: SampleIndex;

  constructor(
    makeWatch: MakeWatch,
    about: About,
    first: Block,
    assigned: Assigned,
    rowsThrough: SampleIndex,
    events: WatchingEvents,
  ) {
    this.boot = first.boot;
    this.about = about;
    this.assigned = assigned;
    this.#base = first.first;
    this.#expected = first.first;
    this.#anchor = { sample: first.first, time: first.time };
    this.#rowsThrough = rowsThrough;
    this.#events = events;
    const { circuit } = assigned;
    this.#watch = makeWatch(
      {
        rateHz: about.rate,
        pairs: about.pairs,
        startedAt: first.time,
        blockFrames: waveFramesMost,
        eventsOnly: true,
        nominalVolts: circuit?.volts ?? null,
        nominalHertz: circuit?.hertz ?? null,
        plate: assigned.plate,
        circuit: placed(circuit, about.at),
        sensorAt: about.at ?? null,
      },
      this.#tells(),
    );
  }

  /** Takes the next block in stream order. False when it overlaps what was there. */
  push(block: Block): boolean {
    // The sensor may have told a new `about` in the midst of a boot.
    const channels = 2 * this.about.pairs;
    assert(block.data.length === block.n * channels, `a block has ${channels} channels`);
    const gap = block.first - this.#expected;
    if (gap < 0) return false;
    const lost = Math.min(gap, block.lost);
    if (gap > lost) this.#skipQuiet(gap - lost);
    if (lost > 0) this.#watch.skip(lost, 'lost');
    const columns = columnsOf[this.about.pairs - 1]!;
    scaled(block, this.about, columns);
    this.#watch.push(columns, block.n);
    this.#expected = block.first + block.n;
    this.#anchor = { sample: block.first, time: block.time };
    return true;
  }

  /** Blocks went for good between the last one and what comes. */
  lost(through: SampleIndex): void {
    if (through > this.#expected) this.#watch.skip(through - this.#expected, 'lost');
    this.#expected = Math.max(this.#expected, through);
  }

  /** The sensor was quiet up to here: it says so in its state. */
  quiet(through: SampleIndex): void {
    if (through <= this.#expected) return;
    this.#skipQuiet(through - this.#expected);
    this.#expected = through;
  }

  end(): void {
    this.#watch.end();
    this.flushRows();
  }

  timeOf(sample: SampleIndex): EpochMicros {
    const { sample: at, time } = this.#anchor;
    return Math.round(time + ((sample - at) * 1e6) / this.about.rate);
  }

  flushRows(): void {
    if (this.#rowCount === 0) return;
    const batch = joinRows(this.#rows, this.about.pairs);
    this.#rows = [];
    this.#rowCount = 0;
    this.#events.rows(batch);
  }

  #tells(): WatchEvents {
    const place = (arc: WatchedArc): WatchedArc => ({
      start: arc.start + this.#base,
      end: arc.end + this.#base,
      hangs: arc.hangs,
      supply: arc.supply,
      estimates: arc.estimates,
      arc: {
        ...arc.arc,
        startS: (arc.start + this.#base) / this.about.rate,
        endS: (arc.end + this.#base) / this.about.rate,
      },
    });
    return {
      rows: (batch) => this.#gather(batch),
      arcBegan: (start) => {
        this.arcSince = start + this.#base;
        const at = this.#events.weldingAt(this.timeOf(this.arcSince));
        this.weld = at?.weld ?? null;
        this.#watch.welds(at?.welding ?? nothingSetUp);
        this.#events.arcBegan(this.arcSince);
      },
      arcGoesOn: (arc) => this.#events.arcGoesOn(place(arc)),
      arcEnded: (arc) => {
        this.arcSince = null;
        this.#events.arcEnded(place(arc));
      },
      sag: (sag) => {
        const start = this.#base + sag.startS * this.about.rate;
        this.#events.sag({ ...sag, startS: start / this.about.rate }, start);
      },
      otherLoad: (event, at) => {
        const place = at + this.#base;
        this.#events.otherLoad({ ...event, atS: place / this.about.rate }, place);
      },
    };
  }

  #skipQuiet(frames: number): void {
    this.#watch.skip(frames, 'quiet');
    if (this.arcSince === null) this.quietFrom = this.#expected;
  }

  #gather(batch: RowBatch): void {
    for (let row = 0; row < batch.end.length; row++) batch.end[row] = batch.end[row]! + this.#base;
    const from = rowAfter(batch, this.#rowsThrough);
    if (from === batch.end.length) return;
    this.#rowsThrough = batch.end.at(-1)!;
    this.#rows.push(from === 0 ? batch : sliceRows(batch, from));
    this.#rowCount += batch.end.length - from;
    if (this.#rowCount >= limits.rowsChunk) this.flushRows();
  }
}

/** One block in volts and amperes at a time, for all sensors: a watch keeps no hold of it. */
const columns = Array.from({ length: 6 }, () => new Float64Array(waveFramesMost));
const columnsOf = [1, 2, 3].map((pairs) => columns.slice(0, 2 * pairs));
