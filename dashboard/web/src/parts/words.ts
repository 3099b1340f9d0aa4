import { en, type Words } from '../../../../shared/words/en.ts';
import { type Language, language } from './preferences.ts';

/** The texts of the language spoken. A new choice takes effect when the page is loaded anew. */
export let words: Words = en;

/** The language that `words` are of. */
export let spoken: Language = 'en';

type Told = typeof import('../../../../shared/words/de.ts')['germanOf'];
/** What the server says in the language spoken; null: in English, as it comes. */
export let told: Told | null = null;

/** When it is known how refusals are said, or that it cannot be. */
export let refusalsKnown: Promise<void> = Promise.resolve();

/** Fetches the language; called once, before anything is drawn. */
export async function speak(): Promise<void> {
  spoken = language();
  document.documentElement.lang = spoken;
  const german = spoken === 'de' ? await import('../../../../shared/words/de.ts') : null;
  words = german?.de ?? en;
  told = german?.germanOf ?? null;
  if (told) refusalsKnown = fetchRefusals(told);
}

/** The page is not kept waiting for them; without them a refusal is English. */
const fetchRefusals = (german: Told): Promise<void> =>
  import('../../../../shared/words/de/refusals.ts').then(
    ({ refusals }) => {
      told = { ...german, unnamed: { ...german.unnamed, ...refusals } };
    },
    () => undefined,
  );
