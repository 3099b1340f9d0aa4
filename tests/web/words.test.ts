import { expect, test } from 'vitest';
import { hasWords, pageTexts, textsIn } from './page-texts.ts';

test('every text of the page comes from the words of a language', () => {
  expect(pageTexts().map(({ file, line, text }) => `${file}:${line} ${text}`)).toEqual([]);
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
