import type { Phrase, Saying } from '../protocol/judgement.ts';
import { type SentenceName, type Sentences, sentences } from '../words/en/sentences.ts';

/** A text in English, and what another language says it from. */
export interface Said {
  says: string;
  saying: Saying;
}

interface MaybeSaid {
  says: string;
  saying?: Saying | undefined;
}

export function say<Name extends SentenceName>(
  name: Name,
  ...[figures]: Parameters<Sentences[Name]>
): Said {
  const sentence = sentences[name] as (figures: unknown) => string;
  return { says: sentence(figures), saying: { name, figures: { ...figures } } };
}

/** Sentences one after the other. */
export function sayAll(first: Said, ...more: readonly Said[]): Said {
  if (more.length === 0) return first;
  const all = [first, ...more];
  const followedBy = all.flatMap(({ saying }) => phrasesOf(saying)).slice(1);
  const { name, figures } = first.saying;
  return {
    says: all.map(({ says }) => says).join(' '),
    saying: { name, figures, followedBy },
  };
}

/** What was stored before sentences had names gets one that no language knows: it stays English. */
export const saidBy = ({ says, saying = { name: '', figures: {} } }: MaybeSaid): Said => ({
  says,
  saying,
});

const phrasesOf = ({ name, figures, followedBy = [] }: Saying): Phrase[] => [
  { name, figures },
  ...followedBy,
];
