import { readFileSync } from 'node:fs';
import { environmentName } from './flags.ts';
import { OperatingError, UsageError } from './outcome.ts';
import type { Programs } from './programs.ts';

type Environment = Record<string, string | undefined>;

/** Names that are no flag: of the door itself, of secrets, and of the tests. */
const others = /^STIFFLINE_(CONFIG|DEBUG|DRAW|USERNAME|PASSWORD|SIMULATION_\w+|CONFUSION_\w+)$/;

/**
 * A settings file holds a section a verb: `{ "run": { "http-port": 8081, "no-sensors": true } }`.
 * Its values go under the environment's, which go under the flags.
 * @throws OperatingError naming file and key.
 */
export async function applySettings(
  path: string,
  verb: string,
  programs: Programs,
  environment: Environment,
): Promise<void> {
  const sections = readSections(path);
  for (const [name, section] of Object.entries(sections)) {
    const load = Object.hasOwn(programs, name) ? programs[name] : undefined;
    if (!load)
      throw new OperatingError(
        `${path}: "${name}" is no verb; there are ${Object.keys(programs).join(', ')}`,
      );
    const known = (await load()).verb.flags;
    const flags = Object.keys(known);
    for (const [key, value] of Object.entries(section)) {
      if (!flags.includes(key))
        throw new OperatingError(
          `${path}: ${name}.${key} is no setting; there are ${flags.join(', ')}`,
        );
      const isList = known[key]?.kind === 'list' && Array.isArray(value);
      if (!(isList ? value : [value]).every(isPlain))
        throw new OperatingError(`${path}: ${name}.${key}: a text, a number or true is needed`);
      if (name === verb) environment[environmentName(key)] ??= String(value);
    }
  }
}

const isPlain = (value: unknown) => ['string', 'number', 'boolean'].includes(typeof value);

function readSections(path: string): Record<string, Record<string, unknown>> {
  let read: unknown;
  try {
    read = JSON.parse(readFileSync(path, 'utf8'));
  } catch (error) {
    const absent = (error as { code?: string }).code === 'ENOENT';
    const says = absent ? 'there is no such file' : String((error as Error).message);
    throw new OperatingError(`${path}: ${says}; settings in JSON are needed`);
  }
  const isObject = (value: unknown) =>
    typeof value === 'object' && value !== null && !Array.isArray(value);
  if (!isObject(read) || !Object.values(read as object).every(isObject))
    throw new OperatingError(`${path}: an object with a section a verb is needed`);
  return read as Record<string, Record<string, unknown>>;
}

/** A misspelt setting must not pass for one that was heard. @throws UsageError naming it. */
export async function refuseStrangers(
  programs: Programs,
  environment: Readonly<Environment>,
): Promise<void> {
  const given = Object.keys(environment).filter(
    (name) => name.startsWith('STIFFLINE_') && !others.test(name),
  );
  if (given.length === 0) return;
  const all = await Promise.all(Object.values(programs).map((load) => load()));
  const known = new Set(all.flatMap(({ verb }) => Object.keys(verb.flags).map(environmentName)));
  const strange = given.find((name) => !known.has(name));
  if (strange) throw new UsageError(`${strange} in the environment is no setting of any verb`);
}
