import type { Saying } from '../protocol/judgement.ts';
import { type SentenceName, type Sentences, sentences } from '../words/en/sentences.ts';

/** A sentence in English, and what another language says it from. */
export interface Said {
  says: string;
  saying: Saying;
}

export function say<Name extends SentenceName>(
  name: Name,
  ...[figures]: Parameters<Sentences[Name]>
): Said {
  const sentence = sentences[name] as (figures: unknown) => string;
  return { says: sentence(figures), saying: { name, figures: { ...figures } } };
}
