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
export const said = ({ says, saying }: Said): string => retold(saying ?? named(says)) ?? says;

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
