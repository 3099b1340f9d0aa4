import { en, type Words } from '../../../../shared/words/en.ts';
import { type Language, language } from './preferences.ts';

/** The texts of the language spoken. A new choice takes effect when the page is loaded anew. */
export let words: Words = en;

/** The language that `words` are of. */
export let spoken: Language = 'en';

/** Fetches the language; called once, before anything is drawn. */
export async function speak(): Promise<void> {
  spoken = language();
  document.documentElement.lang = spoken;
  words = spoken === 'de' ? (await import('../../../../shared/words/de.ts')).de : en;
}
