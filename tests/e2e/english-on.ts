import type { Page } from 'playwright-core';
import { sentences as germanSays } from '../../shared/words/de/sentences.ts';
import { de } from '../../shared/words/de.ts';
import { sentences as englishSays } from '../../shared/words/en/sentences.ts';
import { en } from '../../shared/words/en.ts';

/** English texts without figures that German says otherwise. */
function englishOnly(english: object, german: object): string[] {
  return Object.entries(english).flatMap(([key, text]) => {
    const other = (german as Record<string, unknown>)[key];
    if (typeof text === 'string') return text === other ? [] : [text];
    if (typeof text === 'function') return text.length === 0 ? [(text as () => string)()] : [];
    return text && typeof text === 'object' ? englishOnly(text, other as object) : [];
  });
}

const english = [...englishOnly(en, de), ...englishOnly(englishSays, germanSays)];
const texts = new Set(english.map((text) => text.trim()));
/** Of sentences with figures, and of what is in no list; none of these is a German word. */
const words = /\b(the|and|of|is|are|with|not|on|for|this|machine|circuit|weld|volts|needs)\b/i;

/** What the shop has named itself, longest first: it is in no language. */
export async function namesIn(url: string): Promise<string[]> {
  const lists = await Promise.all(
    ['sensors', 'circuits', 'plates', 'feeders'].map(async (list) =>
      stringsIn(await (await fetch(new URL(`/api/v1/${list}`, url))).json()),
    ),
  );
  return [...new Set(lists.flat())].filter((name) => name.length > 3).sort(longestFirst);
}

const longestFirst = (a: string, b: string) => b.length - a.length;

function stringsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  return value && typeof value === 'object' ? Object.values(value).flatMap(stringsIn) : [];
}

/** What is English on a page that speaks German; `names` may be. */
export async function englishOn(page: Page, names: readonly string[]): Promise<string[]> {
  const said = await page.evaluate(() => {
    const all = [...document.querySelectorAll<HTMLElement>('body *')].filter(
      // Data as it is stored.
      (element) => !element.closest('pre, script, style, noscript'),
    );
    const spoken = ['aria-label', 'title', 'placeholder', 'aria-valuetext'];
    return all.flatMap((element) => [
      ...[...element.childNodes]
        .filter(({ nodeType }) => nodeType === Node.TEXT_NODE)
        .map(({ textContent }) => textContent ?? ''),
      ...spoken.flatMap((name) => element.getAttribute(name) ?? []),
    ]);
  });
  const english = said
    .map((text) => names.reduce((rest, name) => rest.replaceAll(name, ''), text).trim())
    .filter((text) => texts.has(text) || words.test(text));
  return [...new Set(english)];
}
