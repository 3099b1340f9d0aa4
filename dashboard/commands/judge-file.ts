import { setImmediate as turn } from 'node:timers/promises';
import { OperatingError } from '../../shared/command/outcome.ts';
import { Progress } from '../../shared/command/progress.ts';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import type { SensorClass } from '../../shared/metrology/uncertainty.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { RecordingReader } from '../../shared/recording/reader.ts';
import { binS, type EndStream } from '../../shared/watch/align.ts';
import type { RowBatch, WatchedArc, WatchSetup } from '../../shared/watch/contract.ts';
import { Watch } from '../../shared/watch/watch.ts';
import type { FromFile } from './json-file.ts';

/** Arcs and sags in the judgement's lists: some 20 MB; a week of a busy shop has fewer. */
const mostListed = 5_000;

/** The meters' own bound: past it a window of a cycle would not fit their memory. */
const mostHertz = 200_000;

export interface Given {
  plate: FromFile<Plate> | null;
  circuit: FromFile<Circuit> | null;
  sensor: SensorClass | null;
}

export interface JudgedFile {
  judgement: Judgement;
  setup: WatchSetup;
  /** What lies beside another recording of the same welds. */
  stream: EndStream;
}

/**
 * `beside`: its current is kept, to be laid beside another's.
 * @throws OperatingError unreadable, too fast, empty, or stopped: one line.
 */
export async function judgeFile(
  path: string,
  given: Given,
  signal: AbortSignal,
  beside = false,
): Promise<JudgedFile> {
  const { reader, close } = openRecordingFile(path);
  try {
    return await judgeReader(path, reader, given, signal, beside);
  } finally {
    close();
  }
}

async function judgeReader(
  path: string,
  reader: RecordingReader,
  { plate, circuit, sensor }: Given,
  signal: AbortSignal,
  beside: boolean,
): Promise<JudgedFile> {
  const { facts } = reader;
  if (facts.rateHz > mostHertz)
    throw new OperatingError(
      `${path}: ${facts.rateHz} samples/s; at most ${mostHertz} are measured`,
    );
  const setup: WatchSetup = {
    rateHz: facts.rateHz,
    pairs: facts.pairs,
    startedAt: facts.startedAt,
    nominalVolts: circuit?.value.volts ?? null,
    // A file's own line frequency is often a default of its writer: the stream knows better.
    nominalHertz: circuit?.value.hertz ?? null,
    plate: plate?.value ?? null,
    circuit: circuit?.value ?? null,
    sensor,
    quality: true,
    keep: mostListed,
  };
  const arcs: WatchedArc[] = [];
  const amps = new Binned(facts.rateHz);
  const watch = new Watch(setup, {
    ...(beside && { rows: (batch: RowBatch) => amps.take(batch) }),
    arcEnded: (arc) => {
      if (arcs.length < mostListed) arcs.push(arc);
    },
  });
  await pushAll(path, reader, watch, signal);
  watch.end();
  const judgement = watch.judgement(facts.format);
  judgement.cautions.push(...asides(reader, plate?.questions, circuit?.questions));
  return { judgement, setup, stream: { startedAt: facts.startedAt, arcs, amps: amps.bins } };
}

async function pushAll(
  path: string,
  reader: RecordingReader,
  watch: Watch,
  signal: AbortSignal,
): Promise<void> {
  const progress = new Progress('judging');
  let frames = 0;
  try {
    for (let blocks = 0; ; blocks++) {
      const block = reader.next();
      if (block === null) break;
      if (block.gapFrames > 0) watch.skip(block.gapFrames, 'lost');
      watch.push(block.channels, block.frames);
      frames += block.frames;
      progress.show(reader.progress);
      // Sixteen blocks are a few milliseconds: Ctrl-C is heard between them.
      if (blocks % 16 === 15) await turn();
      if (signal.aborted) throw new OperatingError(`${path}: stopped before its end`);
    }
  } finally {
    progress.end();
  }
  if (frames === 0) throw new OperatingError(`${path}: holds no samples`);
}

/** Half-cycle currents of the first pair by time; an hour is 180,000 bins, a day 4 million. */
class Binned {
  readonly bins: number[] = [];
  readonly #rateHz: number;

  constructor(rateHz: number) {
    this.#rateHz = rateHz;
  }

  take({ end, amps }: RowBatch): void {
    for (let row = 0; row < end.length; row++) {
      const bin = Math.floor(end[row]! / this.#rateHz / binS);
      while (this.bins.length < bin) this.bins.push(this.bins.at(-1) ?? 0);
      this.bins[bin] = amps[0]![row]!;
    }
  }
}

/** What the reader of the judgement must know of its input. */
function asides(
  { facts, missing }: RecordingReader,
  ...questions: (string[] | undefined)[]
): string[] {
  return [
    ...questions.flatMap((each) => each ?? []),
    ...(missing > 0 ? [`${missing} values are marked missing in the recording.`] : []),
    ...(facts.leftOut.length > 0
      ? [`Channels without a partner were left out: ${facts.leftOut.join(', ')}.`]
      : []),
  ];
}
