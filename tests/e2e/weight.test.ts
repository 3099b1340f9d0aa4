import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, test } from 'vitest';

const most = 120 * 1024;

test('all that a first visit loads is no more than 120 kB gzipped', () => {
  const folder = 'dist/web';
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
  expect(files.some((file) => file.endsWith('.js'))).toBe(true);
  const bytes = files.reduce((sum, file) => sum + gzipSync(readFileSync(file)).length, 0);
  expect(bytes).toBeGreaterThan(10_000);
  expect(bytes).toBeLessThanOrEqual(most);
});
