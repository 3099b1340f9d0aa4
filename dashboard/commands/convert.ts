import { realpathSync } from 'node:fs';
import { basename, extname } from 'node:path';
import { setImmediate as turn } from 'node:timers/promises';
import { type Flag, readFlags } from '../../shared/command/flags.ts';
import { Exit, OperatingError, UsageError } from '../../shared/command/outcome.ts';
import { Progress } from '../../shared/command/progress.ts';
import { FileSink } from '../../shared/files/file-sink.ts';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import type { DataKind } from '../../shared/recording/comtrade-cfg.ts';
import { ComtradeWriter } from '../../shared/recording/comtrade-writer.ts';
import { CsvWriter } from '../../shared/recording/csv-writer.ts';
import type { RecordingFacts, RecordingReader } from '../../shared/recording/reader.ts';
import type { RecordingWriter } from '../../shared/recording/writer.ts';
import { fitChannels } from './fit-channels.ts';

const kinds = ['ascii', 'binary', 'binary32', 'float32'] as const;

export const verb = {
  name: 'convert',
  says: 'Writes a recorded stream in another format, chosen by the ending of OUT: .csv, .cfg, .cff',
  words: ['IN', 'OUT'],
  flags: {
    format: {
      kind: 'text',
      says: `samples of a .cfg or .cff: ${kinds.join(', ')} (as IN has them)`,
      choices: kinds,
    },
  },
} satisfies { name: string; says: string; words: string[]; flags: Record<string, Flag> };

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { words, flags } = readFlags(verb, argv, process.env);
  const [from = '', to = ''] = words;
  const target = targetOf(to, flags.format);
  const { reader, close } = openRecordingFile(from);
  const sinks: FileSink[] = [];
  try {
    refuseSameFile(from, to);
    const writer = openWriter(from, to, target, reader.facts, sinks);
    const rows = await copy(reader, writer, signal, `writing ${basename(to)}`);
    if (rows === null) throw new OperatingError(`${to}: stopped before it was whole`);
    writer.close();
    for (const sink of sinks.splice(0)) sink.keep();
    const { missing } = reader;
    const left = missing === 0 ? '' : `; rows with ${missing} missing values are left out`;
    process.stderr.write(`${to}: ${rows} rows${left}\n`);
    return Exit.done;
  } finally {
    for (const sink of sinks) sink.drop();
    close();
  }
}

type Target = { ending: 'csv' } | { ending: 'cfg' | 'cff'; kind: DataKind | null };

function targetOf(path: string, format: string | undefined): Target {
  const ending = extname(path).slice(1).toLowerCase();
  if (ending === 'csv') {
    if (format !== undefined) throw new UsageError('--format is for .cfg and .cff; CSV has one');
    return { ending };
  }
  if (ending !== 'cfg' && ending !== 'cff')
    throw new UsageError(`OUT "${path}" must end in .csv, .cfg or .cff`);
  return { ending, kind: format === undefined ? null : (format.toUpperCase() as DataKind) };
}

function refuseSameFile(from: string, to: string): void {
  const stem = (path: string) => path.slice(0, path.length - extname(path).length);
  // The halves of one recording share a stem, whichever of them was named.
  const both = [from, to].every((path) => !/\.(csv|txt|cff)$/i.test(path));
  try {
    const same = realpathSync(from) === realpathSync(to);
    if (!same && !(both && stem(realpathSync(from)) === stem(realpathSync(to)))) return;
  } catch {
    return;
  }
  throw new UsageError(`OUT "${to}" would overwrite IN; name another file`);
}

function openWriter(
  from: string,
  to: string,
  target: Target,
  facts: RecordingFacts,
  sinks: FileSink[],
): RecordingWriter {
  const sink = (path: string) => {
    sinks.push(new FileSink(path));
    return sinks.at(-1)!;
  };
  const { rateHz, startedAt, nominalHertz: hertz } = facts;
  const setup = { channels: facts.channels, rateHz, startedAt, hertz };
  if (target.ending === 'csv') return new CsvWriter(setup, sink(to));
  const kind = target.kind ?? sameKind(facts);
  const channels = fitChannels(facts.channels, kind, () => openRecordingFile(from));
  const station = basename(from, extname(from));
  const cfg = { ...setup, channels, kind, station, device: 'converted' };
  if (target.ending === 'cff') return new ComtradeWriter(cfg, { single: sink(to) });
  const samples = to.replace(/cfg$/i, (ending) => (ending === 'CFG' ? 'DAT' : 'dat'));
  return new ComtradeWriter(cfg, { config: sink(to), samples: sink(samples) });
}

/** COMTRADE keeps its samples' kind; the decimals of a CSV are only kept whole by ASCII. */
function sameKind(facts: RecordingFacts): DataKind {
  const [, kind = 'ASCII'] = /(ASCII|BINARY32|BINARY|FLOAT32)$/.exec(facts.format) ?? [];
  return kind as DataKind;
}

/** Copies all rows; their number, or null where the signal came first. */
async function copy(
  reader: RecordingReader,
  writer: RecordingWriter,
  signal: AbortSignal,
  label: string,
): Promise<number | null> {
  const progress = new Progress(label);
  let rows = 0;
  let turnedMs = performance.now();
  try {
    for (let block = reader.next(); block; block = reader.next()) {
      if (block.gapFrames > 0) writer.skip(block.gapFrames);
      writer.writeValues(block.channels, block.frames);
      rows += block.frames;
      progress.show(reader.progress);
      // A signal is only heard between turns of the event loop.
      if (performance.now() - turnedMs > 50) {
        await turn();
        if (signal.aborted) return null;
        turnedMs = performance.now();
      }
    }
    return rows;
  } finally {
    progress.end();
  }
}
