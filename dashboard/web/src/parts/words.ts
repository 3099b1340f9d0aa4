import { en, type Words } from '../../../../shared/words/en.ts';
import { kept } from './kept.ts';

/** Languages there are, each by its own name. */
export const languages = { en: 'English', de: 'Deutsch' } as const;
export type Language = keyof typeof languages;

/** What this device was told to speak; empty: as the browser asks, else English. */
export const chosenLanguage = kept('language', '');

/** The texts of the language spoken. A new choice takes effect when the page is loaded anew. */
export let words: Words = en;

export function language(): Language {
  const asked = [chosenLanguage.value, ...navigator.languages].map((tag) => tag.slice(0, 2));
  const first = asked.find((tag): tag is Language => tag in languages);
  return first ?? 'en';
}

/** Fetches the language; called once, before anything is drawn. */
export async function speak(): Promise<void> {
  const spoken = language();
  document.documentElement.lang = spoken;
  if (spoken === 'de') words = (await import('../../../../shared/words/de.ts')).de;
}
