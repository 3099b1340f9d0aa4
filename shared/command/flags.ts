import { parseArgs } from 'node:util';
import { UsageError } from './outcome.ts';

/** What a text must be, where not any will do: `needs` says it to who wrote another. */
interface Check {
  is?: (text: string) => boolean;
  needs?: string;
}

/**
 * One flag. Numbers are checked against their bounds; `choices` closes a text. A list may be said
 * more than once, and with commas.
 */
export type Flag =
  | { kind: 'switch'; says: string }
  | ({ kind: 'text'; says: string; value?: string; choices?: readonly string[] } & Check)
  | ({ kind: 'list'; says: string } & Check)
  | { kind: 'number'; says: string; value?: number; min: number; max: number; whole?: boolean };

type Value<F extends Flag> = F extends { kind: 'switch' }
  ? boolean
  : F extends { kind: 'list' }
    ? string[]
    : F extends { kind: 'number' }
      ? F extends { value: number }
        ? number
        : number | undefined
      : F extends { value: string }
        ? string
        : string | undefined;

export interface Verb<Flags extends Record<string, Flag>> {
  name: string;
  says: string;
  /** Names of the positional words, in order; a trailing "?" marks one that may be left out. */
  words: readonly string[];
  flags: Flags;
}

export interface Parsed<Flags extends Record<string, Flag>> {
  words: string[];
  flags: { [Name in keyof Flags]: Value<Flags[Name]> };
}

/** `STIFFLINE_HTTP_PORT` stands in for `--http-port`. */
export const environmentName = (flag: string): string =>
  `STIFFLINE_${flag.replaceAll('-', '_').toUpperCase()}`;

/**
 * Reads a verb's arguments: flags over environment over defaults.
 * @throws UsageError naming the word that is off and what would be right.
 */
export function readFlags<Flags extends Record<string, Flag>>(
  verb: Verb<Flags>,
  argv: readonly string[],
  environment: Readonly<Record<string, string | undefined>>,
): Parsed<Flags> {
  const { positionals, values } = parse(verb, argv);
  const flags: Record<string, boolean | number | string | string[] | undefined> = {};
  for (const [name, flag] of Object.entries(verb.flags)) {
    const given = values[name];
    const around = environment[environmentName(name)];
    const text = typeof given === 'string' ? given : around;
    const from = given === undefined ? environmentName(name) : `--${name}`;
    if (flag.kind === 'switch')
      flags[name] = given === true || ['1', 'true', 'yes'].includes(text ?? '');
    else if (flag.kind === 'list') flags[name] = readList(flag, given ?? (around || []), from);
    else flags[name] = text === undefined ? flag.value : read(flag, text, from);
  }
  const least = verb.words.filter((word) => !word.endsWith('?')).length;
  if (positionals.length < least)
    throw new UsageError(`${verb.name}: ${verb.words[positionals.length]} is missing`);
  if (positionals.length > verb.words.length)
    throw new UsageError(`${verb.name}: "${positionals[verb.words.length]}" is one word too many`);
  return { words: positionals, flags: flags as Parsed<Flags>['flags'] };
}

function parse(verb: Verb<Record<string, Flag>>, argv: readonly string[]) {
  const options = Object.fromEntries(
    Object.entries(verb.flags).map(([name, flag]) => [
      name,
      {
        type: flag.kind === 'switch' ? ('boolean' as const) : ('string' as const),
        multiple: flag.kind === 'list',
      },
    ]),
  );
  try {
    return parseArgs({ args: [...argv], options, allowPositionals: true, strict: true });
  } catch (error) {
    const says = error instanceof Error ? error.message.split('. ')[0] : String(error);
    const known = Object.keys(verb.flags).map((name) => `--${name}`);
    throw new UsageError(`${verb.name}: ${says}; it takes ${known.join(' ') || 'no flags'}`);
  }
}

/** What was said so often, each with its commas. A variable that is empty holds nothing. */
function readList(flag: Check, given: unknown, from: string): string[] {
  const all = [given].flat().flatMap((text) => String(text).split(','));
  return all.map((text) => checked(flag, text.trim(), from));
}

function checked({ is, needs }: Check, text: string, from: string): string {
  if (is && !is(text)) throw new UsageError(`${from} "${text}": ${needs} is needed`);
  return text;
}

function read(flag: Exclude<Flag, { kind: 'switch' | 'list' }>, text: string, from: string) {
  if (flag.kind === 'text') {
    if (flag.choices && !flag.choices.includes(text))
      throw new UsageError(`${from} "${text}": one of ${flag.choices.join(', ')} is needed`);
    return checked(flag, text, from);
  }
  const number = text.trim() === '' ? Number.NaN : Number(text);
  const whole = flag.whole === true;
  if (!(number >= flag.min && number <= flag.max) || (whole && !Number.isInteger(number)))
    throw new UsageError(
      `${from} "${text}": a ${whole ? 'whole ' : ''}number ` +
        `from ${flag.min} to ${flag.max} is needed`,
    );
  return number;
}

/** The help text of a verb. */
export function usage(verb: Verb<Record<string, Flag>>): string {
  const words = verb.words.map((word) => (word.endsWith('?') ? `[${word.slice(0, -1)}]` : word));
  const lines = Object.entries(verb.flags).map(([name, flag]) => {
    const takes = flag.kind === 'switch' ? '' : flag.kind === 'number' ? ' N' : ' TEXT';
    const usual = 'value' in flag && flag.value !== undefined ? ` (${flag.value})` : '';
    return `  ${`--${name}${takes}`.padEnd(24)} ${flag.says}${usual}`;
  });
  return [`stiffline ${[verb.name, ...words].join(' ')}`, `  ${verb.says}`, ...lines].join('\n');
}
