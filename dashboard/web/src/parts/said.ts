import type { Finding, Saying } from '../../../../shared/protocol/judgement.ts';
import { en } from '../../../../shared/words/en.ts';
import { spoken, words } from './words.ts';

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

/** The server's faults by path, `supply[0].I1max must be > 0; name is missing`; paths stay. */
export const faultsSaid = (detail: string): string =>
  spoken === 'en' || inOwnWords(detail) !== detail
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
  if (spoken === 'en') return undefined;
  names ??= new Map(
    Object.entries(en.sentences)
      .filter(([, sentence]) => sentence.length === 0)
      .map(([name, sentence]) => [(sentence as () => string)(), name]),
  );
  const name = names.get(says);
  return name === undefined ? undefined : { name, figures: {} };
}

/** What an electrician needs to know of a finding. */
export const saidToElectrician = ({ electrician, electricianSaying }: Finding): string | null =>
  electrician === null ? null : (retold(electricianSaying) ?? electrician);

function retold(saying: Saying | undefined): string | null {
  if (saying === undefined || spoken === 'en') return null;
  const phrases = [saying, ...(saying.followedBy ?? [])];
  if (!phrases.every(({ name }) => Object.hasOwn(words.sentences, name))) return null;
  const sentences = words.sentences as Record<string, unknown>;
  try {
    return phrases
      .map(({ name, figures }) => (sentences[name] as (of: unknown) => string)(figures))
      .join(' ');
  } catch {
    // Figures of another version: the English sentence is true all the same.
    return null;
  }
}

/** Texts without names, each as a pattern with its own words; made when the first is asked for. */
let patterns: [RegExp, string][] | undefined;

/** What has no name is known by its English, or stays as it is. */
function inOwnWords(says: string): string {
  const whole = Object.hasOwn(words.unnamed, says) ? words.unnamed[says] : undefined;
  if (whole !== undefined) return whole;
  patterns ??= Object.entries(words.unnamed)
    .filter(([text]) => text.includes('{}'))
    .map(([text, own]) => [patternOf(text), own]);
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

/** "{}" is the next of what varies, "{2}" the third. */
function filled(text: string, varied: readonly string[]): string {
  let next = 0;
  return text.replace(
    /\{(\d*)\}/g,
    (_, at: string) => varied[at === '' ? next++ : Number(at)] ?? '',
  );
}
