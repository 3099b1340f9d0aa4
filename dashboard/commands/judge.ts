import { setImmediate as turn } from 'node:timers/promises';
import { type Flag, readFlags } from '../../shared/command/flags.ts';
import { Exit, OperatingError } from '../../shared/command/outcome.ts';
import { Progress } from '../../shared/command/progress.ts';
import { openRecordingFile } from '../../shared/files/recording-file.ts';
import {
  type SensorClass,
  sensorClassA,
  sensorClassS,
} from '../../shared/metrology/uncertainty.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { RecordingReader } from '../../shared/recording/reader.ts';
import { isAtLeast, verdicts } from '../../shared/rules/verdict.ts';
import { Watch } from '../../shared/watch/watch.ts';
import type { FromFile } from './json-file.ts';
import { readCircuitFile, readPlateFile } from './plate-file.ts';
import { report } from './report.ts';

export const verb = {
  name: 'judge',
  says: 'Judges a recorded stream: did the circuit deliver what the plate needs?',
  words: ['RECORDING'],
  flags: {
    plate: { kind: 'text', says: "file of the machine's rating plate, JSON" },
    circuit: { kind: 'text', says: 'file of the circuit and its cords, JSON' },
    'sensor-class': {
      kind: 'text',
      says: "the sensor's class by IEC 61000-4-30; without it findings reckon with class S",
      choices: ['A', 'S'],
    },
    json: { kind: 'switch', says: 'print the judgement as one JSON object' },
    'fail-on': {
      kind: 'text',
      says: `exit 3 when the verdict is this or worse: ${verdicts.join(', ')}`,
      choices: verdicts,
    },
  },
} satisfies { name: string; says: string; words: string[]; flags: Record<string, Flag> };

export async function main(argv: readonly string[], signal: AbortSignal): Promise<number> {
  const { words, flags } = readFlags(verb, argv, process.env);
  const [path = ''] = words;
  const plate = flags.plate === undefined ? null : readPlateFile(flags.plate);
  const circuit = flags.circuit === undefined ? null : readCircuitFile(flags.circuit);
  const { reader, close } = openRecordingFile(path);
  let judgement: Judgement;
  try {
    const sensor = sensorOf(flags['sensor-class']);
    judgement = await judgeReader(path, reader, { plate, circuit, sensor }, signal);
  } finally {
    close();
  }
  await write(flags.json ? `${JSON.stringify(judgement, null, 2)}\n` : readable(judgement));
  const failOn = verdicts.find((verdict) => verdict === flags['fail-on']);
  return failOn && isAtLeast(judgement.verdict, failOn) ? Exit.verdict : Exit.done;
}

/** Arcs and dips in the judgement's lists: some 20 MB; a week of a busy shop has fewer. */
const mostListed = 5_000;

/** The meters' own bound: past it a window of a cycle would not fit their memory. */
const mostHertz = 200_000;

const sensorOf = (stated: string | undefined): SensorClass | null =>
  stated === undefined ? null : stated === 'A' ? sensorClassA : sensorClassS;

interface Given {
  plate: FromFile<Plate> | null;
  circuit: FromFile<Circuit> | null;
  sensor: SensorClass | null;
}

async function judgeReader(
  path: string,
  reader: RecordingReader,
  { plate, circuit, sensor }: Given,
  signal: AbortSignal,
): Promise<Judgement> {
  const { facts } = reader;
  if (facts.rateHz > mostHertz)
    throw new OperatingError(
      `${path}: ${facts.rateHz} samples/s; at most ${mostHertz} are measured`,
    );
  const watch = new Watch(
    {
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
    },
    {},
  );
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
  watch.end();
  const judgement = watch.judgement(facts.format);
  judgement.cautions.push(...asides(reader, plate?.questions, circuit?.questions));
  return judgement;
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

function readable(judgement: Judgement): string {
  const colour = process.stdout.isTTY === true && !process.env.NO_COLOR;
  return report(judgement, colour);
}

/** Waits until it is written: a pipe may take less than all of it at once. */
function write(text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    process.stdout.write(text, (error) => (error ? reject(error) : resolve()));
  });
}
