import { basename } from 'node:path';
import { type Flag, readFlags } from '../../shared/command/flags.ts';
import { Exit } from '../../shared/command/outcome.ts';
import {
  type SensorClass,
  sensorClassA,
  sensorClassS,
} from '../../shared/metrology/uncertainty.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import { verdicts } from '../../shared/protocol/verdicts.ts';
import { checkRecording } from '../../shared/rules/outlet-check-recording.ts';
import type { OutletCheck } from '../../shared/rules/outlet-check-state.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import { isAtLeast } from '../../shared/rules/verdict.ts';
import { recordingSetting } from '../../shared/watch/recording-setting.ts';
import { bothEnds } from './both-ends.ts';
import { type Given, type JudgedFile, judgeFile } from './judge-file.ts';
import { readCircuitFile, readPlateFile } from './plate-file.ts';
import { report } from './report.ts';
import { checkText, endsText } from './report-more.ts';

export const verb = {
  name: 'judge',
  says: 'Judges a recorded stream: did the circuit deliver what the plate needs?',
  words: ['RECORDING'],
  flags: {
    plate: { kind: 'text', says: "file of the machine's rating plate, JSON" },
    circuit: { kind: 'text', says: 'file of the circuit and its cords, JSON' },
    'sensor-class': {
      kind: 'text',
      says: "class that the sensor's maker states, after IEC 61000-4-30 (S)",
      choices: ['A', 'S'],
    },
    'machine-end': {
      kind: 'text',
      says: "the same welds recorded at the machine's end: it counts, the drop is split",
    },
    'outlet-check': { kind: 'switch', says: 'the recording as an outlet check, step by step' },
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
  const given = { plate, circuit, sensor: sensorOf(flags['sensor-class']) };
  const other = flags['machine-end'];
  const both = other !== undefined;
  const outlet = await judgeFile(path, both ? at(given, 'outlet') : given, signal, both);
  const machine = both ? await judgeFile(other, at(given, 'machine'), signal, both) : null;
  const counts = machine ?? outlet;
  const ends = machine && bothEnds([path, other ?? ''], outlet, machine);
  const check = flags['outlet-check'] ? checkOf(counts, other ?? path) : null;
  const { judgement } = counts;
  const told = {
    ...judgement,
    ...(ends && { ends }),
    ...(check && { outletCheck: check.result ?? tellCheck(check) }),
  };
  const text = () => [
    readable(judgement),
    ...(ends ? [endsText(ends)] : []),
    ...(check ? [checkText(check)] : []),
  ];
  await write(flags.json ? `${JSON.stringify(told, null, 2)}\n` : text().join(''));
  const failOn = verdicts.find((verdict) => verdict === flags['fail-on']);
  return failOn && isAtLeast(judgement.verdict, failOn) ? Exit.verdict : Exit.done;
}

/** The same circuit, with the sensor at one of its ends. */
function at(given: Given, sensorAt: 'outlet' | 'machine'): Given {
  const { circuit } = given;
  return circuit
    ? { ...given, circuit: { ...circuit, value: { ...circuit.value, sensorAt } } }
    : given;
}

function checkOf({ judgement, setup, stream }: JudgedFile, path: string): OutletCheck {
  const about = {
    date: judgement.recording.startedAt ?? new Date().toISOString(),
    ...{ person: '', place: '', cordFrom: 'first-bead' as const, recording: basename(path) },
  };
  return checkRecording(about, recordingSetting(setup, judgement), stream.arcs);
}

const sensorOf = (stated: string | undefined): SensorClass | null =>
  stated === undefined ? null : stated === 'A' ? sensorClassA : sensorClassS;

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
