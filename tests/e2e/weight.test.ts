import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';

const folder = 'dist/web';
/** What must be there before a first visit shows the floor. */
const mostFirst = 120 * 1024;
/** All that the worker then fetches for the day without a server: views, languages, icons. */
const mostInAll = 240 * 1024;

const bytes = (files: Iterable<string>) =>
  [...files].reduce((sum, file) => sum + gzipSync(readFileSync(join(folder, file))).length, 0);

/** The page's own files: what it names, and what those import at once or for a language. */
function firstFiles(): Set<string> {
  const html = readFileSync(join(folder, 'index.html'), 'utf8');
  const found = new Set(['index.html', 'sw.js', 'manifest.webmanifest', 'icon.svg']);
  const follow = (file: string) => {
    if (found.has(file)) return;
    found.add(file);
    if (!file.endsWith('.js')) return;
    const code = readFileSync(join(folder, file), 'utf8');
    for (const [, name] of code.matchAll(/(?:\bfrom|\bimport)\s*["'`]\.\/([\w.-]+)["'`]/g))
      follow(`assets/${name}`);
  };
  for (const [, name] of html.matchAll(/(?:src|href)="\/(assets\/[\w.-]+)"/g)) follow(name!);
  for (const name of readdirSync(join(folder, 'assets')))
    if (/^[a-z]{2}-/.test(name)) found.add(`assets/${name}`);
  return found;
}

test('all that a first visit loads is no more than 120 kB gzipped', () => {
  const files = firstFiles();
  expect([...files].filter((file) => file.endsWith('.js')).length).toBeGreaterThan(1);
  expect(files.size).toBeGreaterThan(6);
  expect(bytes(files)).toBeGreaterThan(10_000);
  expect(bytes(files)).toBeLessThanOrEqual(mostFirst);
});

test('the whole page, every view and language of it, is no more than 240 kB gzipped', () => {
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(folder.length + 1));
  expect(bytes(files)).toBeLessThanOrEqual(mostInAll);
});
