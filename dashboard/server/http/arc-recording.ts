import type { About } from '../../../shared/protocol/messages.ts';
import { ComtradeWriter } from '../../../shared/recording/comtrade-writer.ts';
import { CsvWriter } from '../../../shared/recording/csv-writer.ts';
import type { ChannelFacts } from '../../../shared/recording/reader.ts';
import type { ByteSink } from '../../../shared/recording/source.ts';
import type { WriterSetup } from '../../../shared/recording/writer.ts';
import type { SampleIndex } from '../../../shared/units.ts';
import { scaled } from '../store/scaled.ts';
import type { ArcRecord, Block, Store } from '../store/store.ts';
import { arcBlocks } from './arc-blocks.ts';

/** Before an arc, where it was recorded: what tells the voltage with the machine idle. */
const leadS = 5;
/** After it: what tells that it ended. */
const tailS = 2;
/** From a neighbouring arc: its end is seen so late, its begin is noticed so early. */
const apartS = 0.1;
/** Arcs looked through for the one that follows. */
const mostNear = 200;

/** A stretch of stored samples with this arc and no other, as one recording. */
export interface ArcStretch {
  from: SampleIndex;
  to: SampleIndex;
  /** Samples that are there. */
  kept: number;
}

/**
 * What is recorded about one arc: back and on from it as far as samples run on, and not into
 * another arc, which would be judged along. Null when the waveform was given up.
 */
export async function arcStretch(store: Store, arc: ArcRecord): Promise<ArcStretch | null> {
  const { start, end, rateHz } = arc;
  const [least, most] = apart(store, arc);
  const lowest = Math.ceil(Math.max(start - leadS * rateHz, least, 0));
  const highest = Math.floor(Math.min(end + tailS * rateHz, most));
  let stretch = null as ArcStretch | null;
  for await (const whole of arcBlocks(store, arc, lowest, highest)) {
    const block = cut(whole, lowest, highest);
    const runsOn = stretch !== null && (block.first === stretch.to || block.first < end);
    // A hole before the arc begins the recording anew; one after it ends it.
    if (stretch === null || (block.first > stretch.to && block.first <= start))
      stretch = { from: block.first, to: block.first + block.n, kept: block.n };
    else if (runsOn)
      stretch = { ...stretch, to: block.first + block.n, kept: stretch.kept + block.n };
    else break;
  }
  return stretch && stretch.to > start ? stretch : null;
}

/** The ends of the room between this arc's neighbours. */
function apart(store: Store, { sensor, boot, start, end, rateHz, startedUs, id }: ArcRecord) {
  const [before] = store.arcs({ sensor, before: { startedUs, id }, limit: 1 });
  const soon = { startedUs: startedUs + ((end - start) / rateHz + leadS) * 1e6, id: 0 };
  const next = store
    .arcs({ sensor, before: soon, limit: mostNear })
    .filter((one) => one.boot === boot && one.start > start)
    .at(-1);
  return [
    before?.boot === boot ? before.end + apartS * rateHz : Number.NEGATIVE_INFINITY,
    next ? next.start - apartS * rateHz : Number.POSITIVE_INFINITY,
  ] as const;
}

function cut(block: Block, from: SampleIndex, to: SampleIndex): Block {
  const begin = Math.max(0, from - block.first);
  const end = Math.min(block.n, to - block.first);
  if (begin === 0 && end === block.n) return block;
  const stride = block.data.length / block.n;
  const data = block.data.subarray(begin * stride, end * stride);
  return { ...block, first: block.first + begin, n: end - begin, data };
}

/** Takes what a writer gives, until it is sent. Nothing is rewritten: all is known beforehand. */
class Outgoing implements ByteSink {
  #chunks: Uint8Array[] = [];

  write(bytes: Uint8Array): void {
    // A writer uses its buffer again.
    this.#chunks.push(bytes.slice());
  }

  rewrite(): void {
    throw new Error('what was sent cannot be written anew');
  }

  take(): Buffer {
    const all = Buffer.concat(this.#chunks);
    this.#chunks = [];
    return all;
  }
}

function setUp(arc: ArcRecord, about: About, { from }: ArcStretch): WriterSetup {
  const { rate, pairs, bits, scale } = about;
  const channels = Array.from(
    { length: 2 * pairs },
    (_, at): ChannelFacts => ({
      name: `${at % 2 === 0 ? 'v' : 'i'}${(at >> 1) + 1}`,
      unit: at % 2 === 0 ? 'V' : 'A',
      scale: scale[at]!,
      offset: 0,
      bits: bits <= 16 ? 16 : 32,
    }),
  );
  const startedAt = Math.round(arc.startedUs - ((arc.start - from) / rate) * 1e6);
  return { channels, rateHz: rate, hertz: arc.circuit?.hertz ?? null, startedAt };
}

/** The stretch as one COMTRADE file (.cff), in counts as the sensor sent them. */
export async function* cffOf(store: Store, arc: ArcRecord, about: About, stretch: ArcStretch) {
  const out = new Outgoing();
  const { from, to, kept } = stretch;
  const writer = new ComtradeWriter(
    {
      ...setUp(arc, about, stretch),
      kind: about.bits <= 16 ? 'BINARY' : 'BINARY32',
      station: about.site,
      device: about.name,
      known: { rows: to - from, kept },
    },
    { single: out },
  );
  for await (const { block, missing } of pieces(store, arc, stretch)) {
    if (missing > 0) writer.skip(missing);
    writer.writeCounts(block.data, block.n);
    yield out.take();
  }
  writer.close();
  yield out.take();
}

/** The stretch as the CSV of a recorded stream. */
export async function* csvOf(store: Store, arc: ArcRecord, about: About, stretch: ArcStretch) {
  const out = new Outgoing();
  const writer = new CsvWriter(setUp(arc, about, stretch), out);
  const columns = Array.from({ length: 2 * about.pairs }, () => new Float64Array(1_024));
  for await (const { block, missing } of pieces(store, arc, stretch)) {
    if (missing > 0) writer.skip(missing);
    scaled(block, about, columns);
    writer.writeValues(columns, block.n);
    yield out.take();
  }
}

/** What of each block lies in the stretch, and how many samples are missing before it. */
async function* pieces(store: Store, arc: ArcRecord, { from, to }: ArcStretch) {
  let at = from;
  for await (const whole of arcBlocks(store, arc, from, to)) {
    const block = cut(whole, from, to);
    yield { block, missing: Math.max(0, block.first - at) };
    at = block.first + block.n;
  }
}
