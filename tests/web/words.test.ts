import { expect, test } from 'vitest';
import { hasWords, pageTexts, textsIn } from './page-texts.ts';

/**
 * Folders whose texts still stand in their code, with how many; a folder leaves the list when its
 * texts have moved to shared/words. No folder joins it, no count grows.
 */
const notMovedYet: Record<string, number> = {
  plan: 52,
  remedy: 25,
};

const all = pageTexts();
const folderOf = (file: string) => file.split('/').slice(0, -1).join('/') || '.';

test('every text of the page comes from the words of a language', () => {
  const counts: Record<string, number> = {};
  for (const { file } of all) counts[folderOf(file)] = (counts[folderOf(file)] ?? 0) + 1;
  const grown = Object.entries(counts).filter(([folder, n]) => n > (notMovedYet[folder] ?? 0));
  const lines = all
    .filter(({ file }) => grown.some(([folder]) => folder === folderOf(file)))
    .map(({ file, line, text }) => `${file}:${line} ${text}`);
  expect(lines).toEqual([]);
});

test('a folder that has moved its texts stands in no list', () => {
  const still = new Set(all.map(({ file }) => folderOf(file)));
  expect(Object.keys(notMovedYet).filter((folder) => !still.has(folder))).toEqual([]);
});

test.each([
  ['<p>Hello there</p>', 1],
  ['<p>{open ? "Open" : "Shut"}</p>', 2],
  ['<p>{n} V</p>', 0],
  ['<p>{words.floor.heading}</p>', 0],
  ['<input placeholder="Find it" />', 1],
  ['<input aria-label={`Arc`} />', 1],
  ['<input type="search" class="find me" />', 0],
  ['<Field label={open ? "Open" : words.shut} />', 1],
  ['fail("Write your name first.")', 1],
  ['const facts = { says: "volts" }', 1],
  ['const kind = state === "Open" ? "a b" : "c-d"', 0],
  ['<a href="#/">Stiffline</a>', 0],
])('%s has %i texts of its own', (code, count) => {
  expect(textsIn('a.tsx', code)).toHaveLength(count);
});

test('units are no words, words are', () => {
  expect(['V', '12 AWG', 'mm²', 'Ω', '± 3 %'].map(hasWords)).toEqual(Array(5).fill(false));
  expect(['volts', '3 arcs', 'Länge'].map(hasWords)).toEqual(Array(3).fill(true));
});
