import { type Flag, readFlags } from '../../shared/command/flags.ts';
import { Exit, UsageError } from '../../shared/command/outcome.ts';
import { readFeeders } from '../../shared/protocol/read-feeder.ts';
import { readCircuits, readMachines, readNeeds } from '../../shared/protocol/read-planning.ts';
import { plan } from '../../shared/rules/planning.ts';
import { type FromFile, type JsonKind, readJsonFile } from './json-file.ts';
import { planReport } from './plan-report.ts';

/** Five hundred machines take some 300 kB. */
const mostBytes = 4 * 1024 * 1024;

export const verb = {
  name: 'plan',
  says: 'Which machines the circuits can feed, and the smallest set that meets the needs.',
  words: [],
  flags: {
    machines: { kind: 'text', says: 'file of plates with price and processes, a JSON list' },
    circuits: { kind: 'text', says: 'file of circuits, measured or described, a JSON list' },
    needs: { kind: 'text', says: "file of what the vehicle makers' procedures ask, a JSON list" },
    feeders: { kind: 'text', says: 'file of feeders, each with its circuits, a JSON list' },
    json: { kind: 'switch', says: 'print the plan as one JSON object' },
  },
} satisfies { name: string; says: string; words: string[]; flags: Record<string, Flag> };

export async function main(argv: readonly string[]): Promise<number> {
  const { flags } = readFlags(verb, argv, process.env);
  const machines = list('machines', flags.machines, readMachines);
  const circuits = list('circuits', flags.circuits, readCircuits);
  const needs = list('needs', flags.needs, readNeeds);
  const feeders =
    flags.feeders === undefined
      ? { value: [], questions: [] }
      : list('feeders', flags.feeders, (value) => readFeeders(value, circuits.value));
  const made = plan(machines.value, circuits.value, needs.value, feeders.value);
  const questions = [machines, circuits, needs, feeders].flatMap((each) => each.questions);
  made.cautions.push(...questions);
  const colour = process.stdout.isTTY === true && !process.env.NO_COLOR;
  await write(flags.json ? `${JSON.stringify(made, null, 2)}\n` : planReport(made, colour));
  return Exit.done;
}

function list<T>(what: string, path: string | undefined, parse: JsonKind<T>['parse']): FromFile<T> {
  if (path === undefined) throw new UsageError(`plan: --${what} is missing: a file is needed`);
  return readJsonFile(path, { what: `list of ${what}`, mostBytes, parse });
}

/** Waits until it is written: a pipe may take less than all of it at once. */
function write(text: string): Promise<void> {
  return new Promise((resolve, reject) => {
    process.stdout.write(text, (error) => (error ? reject(error) : resolve()));
  });
}
