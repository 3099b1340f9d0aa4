import { assert } from '../../../shared/assert.ts';
import type { OtherLoad, Sag, Supply } from '../../../shared/protocol/judgement.ts';
import type { About, ArcEdge, State, Wave } from '../../../shared/protocol/messages.ts';
import { sensorPlace } from '../../../shared/rules/place.ts';
import type { WatchedArc } from '../../../shared/watch/contract.ts';
import { limits } from '../limits.ts';
import type { WeldingAt } from '../live/welding-at.ts';
import type { Batch, Block, Cursor, NewArc, SensorRecord, Store } from '../store/store.ts';
import { isStoreFault } from '../store/store-fault.ts';
import { deciding } from './deciding.ts';
import { InOrder, type SetAside } from './in-order.ts';
import { type Assigned, type MakeWatch, Watching } from './watching.ts';
import { wiringKey } from './wiring-key.ts';

/** What a stream tells of the moment; what must last goes into the batch. */
export interface LiveEvents {
  arcBegan(sensor: string, startedUs: number): void;
  arcGoesOn(sensor: string, startedUs: number, arc: WatchedArc): void;
  /** Judged for good, and on its way to the store. */
  arcEnded(sensor: string, arc: WatchedArc): void;
  /** The newest word on the supply, of stored arcs that are watched again too. */
  supplied(sensor: string, arc: Pick<WatchedArc, 'supply' | 'hangs'>): void;
  arcDropped(sensor: string): void;
  sag(sensor: string, atUs: number, sag: Sag): void;
  /** What was set up at a sensor when an arc struck; null where nothing was. */
  weldingAt(sensor: string, startedUs: number): WeldingAt | null;
}

/** What a stream's messages come to beside blocks and arcs. */
export interface StreamHost {
  /** What the next commit will store. */
  batch(): Batch;
  /** A block that the judge failed at: it is put aside, and judging begins anew behind it. */
  spoiled(block: Block, error: unknown): void;
  /** A stored block that the judge failed at as the stream was taken up again. */
  unjudged(block: Block, error: unknown): void;
}

/** Samples this long before the state that tells of them are surely sent, if they were anything. */
const quietAfterS = 6;

/**
 * One sensor's numbered stream: in order, each once, through its watch, into the batch that the
 * next commit stores. All of it is synchronous: between two messages the batch and the cursor say
 * the same.
 */
export class SensorStream {
  readonly id: string;
  about: About;
  assigned: Assigned;
  readonly #store: Store;
  readonly #makeWatch: MakeWatch;
  readonly #host: StreamHost;
  readonly #live: LiveEvents;
  readonly #order: InOrder<ArcEdge | Wave | SetAside>;
  #watching: Watching | null = null;
  #streamBoot: number;
  #settled: number;
  #replaying = false;
  #renew = false;
  /** The supply of each pair as it was last stored. */
  #supplies: (Supply | null)[] = [];
  /** Blocks before the next one are lost for good; the watch must not take them for quiet. */
  #hole = false;

  constructor(
    record: SensorRecord,
    assigned: Assigned,
    store: Store,
    makeWatch: MakeWatch,
    host: StreamHost,
    live: LiveEvents,
  ) {
    this.id = record.sensor;
    this.about = record.about;
    this.assigned = assigned;
    this.#store = store;
    this.#makeWatch = makeWatch;
    this.#host = host;
    this.#live = live;
    this.#order = new InOrder(record.kept);
    this.#streamBoot = record.settledBoot;
    this.#settled = record.settledSample;
  }

  get cursor(): Cursor {
    return {
      sensor: this.id,
      kept: this.#order.through,
      settledBoot: this.#streamBoot,
      settledSample: this.#settled,
    };
  }

  get waiting(): number {
    return this.#order.waiting;
  }

  /**
   * Builds the watch anew from stored blocks: what came after the last settled arc is judged again,
   * what lies before only warms the estimates.
   */
  rebuild(): void {
    const { id } = this;
    const [boot, settled] = [this.#streamBoot, this.#settled];
    const before = this.#store.blocksBefore(id, boot, settled, limits.warmBlocks);
    const after = this.#store.blocks(id, boot, settled, Number.MAX_SAFE_INTEGER);
    this.#replaying = true;
    for (const block of before) this.#watchAgain(block);
    for (const block of after) if (block.first >= settled) this.#watchAgain(block);
    this.#replaying = false;
    if (this.#watching?.arcSince != null)
      this.#live.arcBegan(id, this.#watching.timeOf(this.#watching.arcSince));
  }

  /** A message in its turn, or the place of one that was put aside. */
  take(message: ArcEdge | Wave | SetAside): 'taken' | 'known' | 'full' {
    const taken = this.#order.take(message);
    if (taken === 'taken') this.#drain();
    return taken;
  }

  /** What the sensor's state says of its stream: what it no longer has, and up to where all is. */
  told(state: State): void {
    if (state.boot !== this.#streamBoot && state.newest < this.#order.through) {
      // Its memory was replaced: it counts anew, under a boot number it never had.
      this.#order.restart(Math.max(0, state.oldest - 1));
    }
    if (this.#order.skipTo(state.oldest)) {
      this.#hole = true;
      this.#drain();
    }
    const all = this.#order.through >= state.newest && this.#order.waiting === 0;
    if (!all || state.state === 'arc' || this.#watching?.boot !== state.boot) return;
    // A sensor that says good-bye has closed its captures first.
    const marginS = state.state === 'offline' ? 0 : quietAfterS;
    const { sample } = state;
    this.#orAnew((watching) => {
      watching.quiet(Math.floor(sample - marginS * this.about.rate));
      this.#settled = Math.max(this.#settled, watching.quietFrom);
      watching.flushRows();
    });
    // The sensor took something for an arc that the watch does not.
    if (this.#watching?.arcSince === null) this.#live.arcDropped(this.id);
  }

  /** Plate or circuit changed: from the next arc on another watch judges. */
  assign(assigned: Assigned): void {
    this.assigned = assigned;
    this.#renew = true;
  }

  #drain(): void {
    for (let message = this.#order.next(); message; message = this.#order.next()) {
      if ('aside' in message) this.#hole = true;
      else if ('data' in message) this.#take(message);
      else if (message.what === 'began') this.#live.arcBegan(this.id, message.time);
    }
  }

  #take({ boot, seq, first, time, n, lost, flags, data }: Wave): void {
    const block: Block = { sensor: this.id, boot, seq, first, time, n, lost, flags, data };
    const { blocks } = this.#host.batch();
    blocks.push(block);
    try {
      this.#watch(block);
    } catch (error) {
      // Stored, it would be met again at each start.
      blocks.splice(blocks.lastIndexOf(block), 1);
      this.#host.spoiled(block, error);
      this.#anew();
    }
  }

  #watchAgain(block: Block): void {
    try {
      this.#watch(block);
    } catch (error) {
      this.#host.unjudged(block, error);
      this.#anew();
    }
  }

  /** Does something with the watching, which is no more to be trusted where that fails. */
  #orAnew(work: (watching: Watching) => void): void {
    const watching = this.#watching;
    if (!watching) return;
    try {
      work(watching);
    } catch (error) {
      this.#anew();
      throw error;
    }
  }

  /** The next block gets a new watch; an arc that burned is seen by it from there on. */
  #anew(): void {
    const burned = this.#watching?.arcSince != null;
    this.#watching = null;
    this.#hole = true;
    if (burned) this.#live.arcDropped(this.id);
  }

  #watch(block: Block): void {
    const watching = this.#watching;
    const renew = this.#renew && watching?.arcSince === null;
    if (watching && (watching.boot !== block.boot || renew)) {
      this.#watching = null;
      watching.end();
    }
    if (block.boot !== this.#streamBoot) {
      this.#streamBoot = block.boot;
      this.#settled = 0;
    }
    this.#watching ??= this.#newWatching(block);
    if (this.#hole) this.#watching?.lost(block.first);
    this.#hole = false;
    if (!this.#watching?.push(block)) return;
    this.#settled = Math.max(this.#settled, this.#watching.quietFrom);
  }

  /** Null when the sensor measures other channels than it did: its counts then mean nothing. */
  #newWatching(first: Block): Watching | null {
    const { id } = this;
    // The block itself is not named below: what a watching tells would hold it as long as it lives.
    const { boot } = first;
    const about = this.#aboutOf(boot);
    if (first.data.length !== first.n * 2 * about.pairs) return null;
    const rowsThrough = this.#store.rowsEnd(id, boot);
    this.#renew = false;
    const watching: Watching = new Watching(
      ...([this.#makeWatch, about, first, this.assigned, rowsThrough] as const),
      {
        weldingAt: (startedUs) => this.#live.weldingAt(id, startedUs),
        rows: (batch) => this.#host.batch().rows.push({ sensor: id, boot, batch }),
        arcBegan: (start) => {
          if (!this.#replaying) this.#live.arcBegan(id, watching.timeOf(start));
        },
        arcGoesOn: (arc) => {
          if (!this.#replaying) this.#live.arcGoesOn(id, watching.timeOf(arc.start), arc);
        },
        arcEnded: (arc) => this.#arcEnded(watching, arc),
        sag: (sag, start) => {
          if (this.#replaying && start < this.#settled) return;
          const startedUs = watching.timeOf(start);
          this.#host.batch().sags.push({ sensor: id, boot, start, startedUs, sag });
          if (!this.#replaying) this.#live.sag(id, startedUs, sag);
        },
        otherLoad: (event, at) => this.#otherLoad(watching, event, at),
      },
    );
    return watching;
  }

  /** A boot that passed while no server listened has its blocks here, but not its words. */
  #aboutOf(boot: number): About {
    const known = this.#store.about(this.id, boot);
    if (known) return known;
    const about = { ...this.about, boot };
    try {
      this.#store.saveBoot(this.id, about);
    } catch (error) {
      // It can be asked for again; the block that asks is not to blame.
      if (!isStoreFault(error)) throw error;
    }
    return about;
  }

  #arcEnded(watching: Watching, watched: WatchedArc): void {
    const { start, end, arc } = watched;
    this.#live.supplied(this.id, watched);
    if (!this.#replaying) this.#live.arcEnded(this.id, watched);
    // A rebuilt watch sees arcs again that were stored before it was lost.
    if (start < this.#settled) return;
    assert(end > start, 'an arc has a place in its stream');
    this.#settled = end;
    watching.flushRows();
    const { about, boot } = watching;
    const { circuitId, ...assigned } = watching.assigned;
    const at = sensorPlace(about.at, assigned.circuit);
    const record: NewArc = {
      ...{ sensor: this.id, boot, start, end, arc, ...assigned },
      startedUs: watching.timeOf(start),
      endedUs: watching.timeOf(end),
      says: deciding(arc).says,
      rateHz: about.rate,
      pairs: about.pairs,
      supply: watched.supply,
      hung: circuitId === null || at === null ? null : { circuit: circuitId, at },
      weld: watching.weld,
    };
    this.#host.batch().arcs.push(record);
    this.#supplied(record, watched.estimates, wiringKey(assigned.circuit, at));
  }

  /** An estimate that no new evidence has moved is the one that stands there already. */
  #supplied({ boot, end, endedUs }: NewArc, estimates: (Supply | null)[], wiring: string): void {
    estimates.forEach((supply, index) => {
      const before = this.#supplies[index];
      if (!supply || (before && sameEvidence(before, supply))) return;
      const place = { sensor: this.id, boot, sample: end, atUs: endedUs };
      this.#host.batch().supplies.push({ ...place, wiring, pair: index + 1, supply });
    });
    this.#supplies = estimates;
  }

  #otherLoad(watching: Watching, event: OtherLoad, sample: number): void {
    if (this.#replaying && sample < this.#settled) return;
    const { boot } = watching;
    const atUs = watching.timeOf(sample);
    this.#host.batch().otherLoads.push({ sensor: this.id, boot, sample, atUs, event });
  }
}

const sameEvidence = (a: Supply, b: Supply) =>
  a.steps === b.steps && a.ohmsR === b.ohmsR && a.ohmsX === b.ohmsX;
