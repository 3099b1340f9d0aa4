import type { Finding, Saying } from '../../../../shared/protocol/judgement.ts';
import { told } from './words.ts';

/** Something that the server says, and its name and figures where it has some. */
export interface Said {
  says: string;
  saying?: Saying | undefined;
}

/**
 * A sentence of the server in the language spoken. What has no name here (it was stored by an older
 * server, or comes from a newer one) stays in English.
 */
export const said = ({ says, saying }: Said): string =>
  retold(saying ?? named(says)) ?? inOwnWords(says);

/** What people call a rule, `full load` for `full-load`. */
export const ruleSaid = (rule: string): string => said({ says: rule }).replaceAll('-', ' ');

/** The server's faults by path, `supply[0].I1max must be > 0; name is missing`; paths stay. */
export const faultsSaid = (detail: string): string =>
  told === null || inOwnWords(detail) !== detail
    ? inOwnWords(detail)
    : detail.split('; ').map(faultSaid).join('; ');

function faultSaid(fault: string): string {
  const [, path, says] = /^([a-zA-Z][\w.[\]]*) (.+)$/.exec(fault) ?? [];
  const whole = inOwnWords(fault);
  return whole !== fault || says === undefined ? whole : `${path} ${inOwnWords(says)}`;
}

/** Sentences whose names stand in a list of their own. */
export const saidInTurn = (all: readonly string[], sayings: readonly Saying[] = []): string =>
  all.map((says, at) => said({ says, saying: sayings[at] })).join(' ');

/** Names of the sentences without figures, by what they are in English: these need no more. */
let names: Map<string, string> | undefined;

function named(says: string): Saying | undefined {
  if (told === null) return undefined;
  names ??= new Map(
    Object.entries<unknown>(told.byEnglish)
      .filter((each): each is [string, () => string] => isPlain(each[1]))
      .map(([name, sentence]) => [sentence(), name]),
  );
  const name = names.get(says);
  return name === undefined ? undefined : { name, figures: {} };
}

const isPlain = (sentence: unknown): boolean =>
  typeof sentence === 'function' && sentence.length === 0;

/** What an electrician needs to know of a finding. */
export const saidToElectrician = ({ electrician, electricianSaying }: Finding): string | null =>
  electrician === null ? null : (retold(electricianSaying) ?? electrician);

function retold(saying: Saying | undefined): string | null {
  if (saying === undefined || told === null) return null;
  const phrases = [saying, ...(saying.followedBy ?? [])];
  const sentences: Record<string, unknown> = told.sentences;
  if (!phrases.every(({ name }) => Object.hasOwn(sentences, name))) return null;
  try {
    return phrases
      .map(({ name, figures }) => (sentences[name] as (of: unknown) => string)(figures))
      .join(' ');
  } catch {
    // Figures of another version: the English sentence is true all the same.
    return null;
  }
}

/** Texts without names, each as a pattern with its own words; made anew when more came. */
let patterns: [RegExp, string][] = [];
let patternsOf: object | null = null;

/** What has no name is known by its English, or stays as it is. */
function inOwnWords(says: string): string {
  if (told === null) return says;
  const whole = Object.hasOwn(told.unnamed, says) ? told.unnamed[says] : undefined;
  if (whole !== undefined) return whole;
  if (patternsOf !== told.unnamed) {
    patternsOf = told.unnamed;
    patterns = Object.entries(told.unnamed)
      .filter(([text]) => text.includes('{}'))
      .map(([text, own]) => [patternOf(text), own]);
  }
  for (const [pattern, own] of patterns) {
    const found = pattern.exec(says);
    if (found) return filled(own, found.slice(1));
  }
  return says;
}

const special = /[.*+?^${}()|[\]\\]/g;

const patternOf = (text: string): RegExp =>
  new RegExp(
    `^${text
      .split('{}')
      .map((part) => part.replace(special, '\\$&'))
      .join('(.+?)')}$`,
  );

/** "{}" is the next of what varies, "{2}" the third; "{…}" is the next and has words of its own. */
function filled(text: string, varied: readonly string[]): string {
  let next = 0;
  return text.replace(/\{(\d+|…?)\}/g, (_, at: string) => {
    const found = varied[/\d/.test(at) ? Number(at) : next++] ?? '';
    if (at === '…') return inOwnWords(found);
    return isDecimal.test(found) ? found.replace('.', ',') : found;
  });
}

/** What is told is German so far, where "1.500" would be read as fifteen hundred. */
const isDecimal = /^-?\d+\.\d+$/;
