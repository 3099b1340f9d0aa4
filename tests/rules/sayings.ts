import { expect } from 'vitest';
import type { Saying } from '../../shared/protocol/judgement.ts';
import { sentences as german } from '../../shared/words/de/sentences.ts';
import { sentences as english } from '../../shared/words/en/sentences.ts';

/** Texts and what another language says them from. */
export interface Told {
  texts: [says: string, saying: Saying][];
  /** Texts that have no name. */
  nameless: string[];
}

/** Every `says` with its `saying` within a value, and `electrician` with its own, however deep. */
export function toldIn(value: unknown, so: Told = { texts: [], nameless: [] }): Told {
  if (typeof value !== 'object' || value === null) return so;
  const { says, saying, electrician, electricianSaying } = value as Record<string, unknown>;
  for (const [text, name] of [
    [says, saying],
    [electrician, electricianSaying],
  ]) {
    if (typeof text !== 'string') continue;
    if (name) so.texts.push([text, name as Saying]);
    else so.nameless.push(text);
  }
  for (const each of Object.values(value)) toldIn(each, so);
  return so;
}

/** As it comes out of a store or off a wire. */
const say = (table: object, saying: Saying): string => {
  const { name, figures, followedBy = [] } = JSON.parse(JSON.stringify(saying)) as Saying;
  return [{ name, figures }, ...followedBy]
    .map((each) => (table as Record<string, (of: unknown) => string>)[each.name]!(each.figures))
    .join(' ');
};

const figuresIn = (text: string): string[] =>
  (text.match(/\d+([.,]\d+)?/g) ?? []).map((each) => each.replace(',', '.')).sort();

/** `names`: what a person typed, which no language changes. */
export function expectBothLanguages({ texts, nameless }: Told, names: RegExp = /(?!)/g): void {
  expect([...new Set(nameless)]).toEqual([]);
  for (const [says, saying] of texts) {
    expect(say(english, saying)).toBe(says);
    const told = say(german, saying);
    expect(told).not.toBe(says);
    expect(told.replace(names, '')).not.toMatch(
      /\b(the|and|is|of|at|with|machine|voltage|undefined|NaN)\b|\d\.\d/,
    );
    expect(figuresIn(told), told).toEqual(figuresIn(says));
  }
}

/** Names that were never said: a case is lacking, or nobody says them. */
export const unsaid = (table: object, { texts }: Told): string[] => {
  const said = new Set(
    texts.flatMap(([, saying]) => [saying, ...(saying.followedBy ?? [])]).map(({ name }) => name),
  );
  return Object.keys(table).filter((name) => !said.has(name));
};
