import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { faultsSaid, ruleSaid, said } from '../../dashboard/web/src/parts/said.ts';
import { refusalsKnown, speak } from '../../dashboard/web/src/parts/words.ts';
import { openRecording } from '../../shared/recording/open.ts';
import { ArraySource } from '../../shared/recording/source.ts';
import { encodeText } from '../../shared/recording/text.ts';
import { limits } from '../../shared/rules/limits.ts';
import { refusals } from '../../shared/words/de/refusals.ts';
import { sources } from '../../shared/words/de/sources.ts';
import { recordingTexts, serverTexts } from './server-texts.ts';

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

test('every reason why a recording cannot be read has German words, and so has each part', () => {
  const texts = recordingTexts();
  expect(texts.length).toBeGreaterThan(50);
  const english = texts
    .map((text) => text.replaceAll('{}', '7'))
    .filter((text) => faultsSaid(text) === text);
  expect(english).toEqual([]);
});

const milliseconds = Array.from({ length: 100 }, (_, at) => `${(at / 1000).toFixed(6)},1,1\n`).join(
  '',
);

test.each([
  ['weld.csv', '', 'weld.csv: Die Datei ist leer, nötig sind der Kopf „t_s,v1_V,i1_A“ und'],
  ['weld.csv', 't_s,v1_V\n', 'weld.csv: Zeile 1, Spalte 3: der Kopf endet, wo „i1_A“ nötig ist.'],
  [
    'weld.csv',
    't_s,v1_V,i1_A\n0,1,1\n0.001,over,1\n',
    'weld.csv: Zeile 3, Spalte 2 (v1_V): „over“ ist keine Zahl.',
  ],
  [
    'weld.csv',
    `t_s,v1_V,i1_A\n${milliseconds}0.1006,1,1\n`,
    'weld.csv: Zeile 102, Spalte 1 (t_s): die Zeit 0,1006 s liegt 1,600 Werte hinter der Zeile',
  ],
  ['weld.cff', 'hello\n', 'weld.cff: Zeile 1 ist kein Abschnitt, nötig ist „--- file type: CFG'],
  ['weld.cfg', 's,d,1999\n', 'weld.cfg: Die Datei endet zu früh. Es fehlt: die Zahl der Kanäle („'],
  [
    'weld.cfg',
    's,d,1999\n2,1A,1D\n1,gun,,,A,half,0,0,-9,9\n',
    'weld.cfg: Zeile 3: der Faktor a des Kanals „gun“ ist „half“, nötig ist eine Zahl.',
  ],
])('what is wrong in %s is said in German, place and all', (name, text, german) => {
  expect(faultsSaid(faultOf(name, text))).toContain(german);
});

function faultOf(name: string, text: string): string {
  const main = new ArraySource(encodeText(text));
  try {
    const reader = openRecording({ name, main, sibling: () => main });
    while (reader.next());
  } catch (error) {
    return (error as Error).message;
  }
  return 'it was read';
}

test('every source of a limit has German words', () => {
  // Names of standards alone are the same in every language.
  const sources = Object.values(limits).map(({ source }) => source);
  expect(sources.filter((says) => said({ says }) === says)).toEqual([]);
});

test('a rule is called by its name, not by its identifier', () => {
  expect(ruleSaid('full-load')).toBe('Volllast');
  expect(ruleSaid('of-tomorrow')).toBe('of tomorrow');
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
  const places = (text: string) => text.match(/\{(\d*|…)\}/g)?.length ?? 0;
  const wrong = Object.entries({ ...refusals, ...sources }).filter(
    ([text, own]) => places(own) > places(text),
  );
  expect(wrong).toEqual([]);
});
