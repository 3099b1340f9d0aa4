import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { faultsSaid, said } from '../../dashboard/web/src/parts/said.ts';
import { refusalsKnown, speak } from '../../dashboard/web/src/parts/words.ts';
import { limits } from '../../shared/rules/limits.ts';
import { refusals } from '../../shared/words/de/refusals.ts';
import { sources } from '../../shared/words/de/sources.ts';
import { serverTexts } from './server-texts.ts';

beforeEach(async () => {
  vi.stubGlobal('navigator', { languages: ['de-DE'] });
  vi.stubGlobal('document', { documentElement: { lang: '' } });
  await speak();
  await refusalsKnown;
});
afterEach(() => {
  vi.unstubAllGlobals();
});

/** Told to who starts the program, or put together from parts that are known. */
const elsewhere = [
  'the page is not built yet: npm run build',
  ...['{} {}', 'about.{} {}', 'no {} {}', 'there is no {} {}', 'there are {} {}s already'],
];

test('every reason why the server refuses has German words', () => {
  const texts = serverTexts().filter((text) => !elsewhere.includes(text));
  expect(texts.length).toBeGreaterThan(60);
  const english = texts
    .map((text) => text.replace(/^\{\} (?=it|the)/, 'Tern, gun "push": ').replaceAll('{}', '7'))
    .filter((text) => faultsSaid(text) === text);
  expect(english).toEqual([]);
});

test('every source of a limit has German words', () => {
  // Names of standards alone are the same in every language.
  const sources = Object.values(limits).map(({ source }) => source);
  expect(sources.filter((says) => said({ says }) === says)).toEqual([]);
});

test('what varies is put where German has it; a path stays, what nobody knows too', () => {
  expect(said({ says: 'there is no sensor "bay (1)"' })).toBe(
    'Einen Sensor „bay (1)“ gibt es nicht.',
  );
  expect(faultsSaid('supply[0].I1max must be > 0; name is missing')).toBe(
    'supply[0].I1max muss größer als 0 sein; name fehlt',
  );
  expect(faultsSaid('Ida changed plate "Tern" meanwhile: it is at version 4')).toBe(
    'Ida hat „Tern“ inzwischen geändert: Es steht bei Version 4.',
  );
  expect(faultsSaid('the kettle boils; dry')).toBe('the kettle boils; dry');
});

test('as many places vary in German as in English, or fewer', () => {
  const places = (text: string) => text.match(/\{\d*\}/g)?.length ?? 0;
  const wrong = Object.entries({ ...refusals, ...sources }).filter(
    ([text, own]) => places(own) > places(text),
  );
  expect(wrong).toEqual([]);
});
