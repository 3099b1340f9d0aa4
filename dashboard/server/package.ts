import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The folder of package.json, from source as from dist. */
export function packageRoot(): string {
  let folder = dirname(fileURLToPath(import.meta.url));
  while (!existsSync(join(folder, 'package.json')) && folder !== dirname(folder))
    folder = dirname(folder);
  return folder;
}

export function packageVersion(): string {
  const file = readFileSync(join(packageRoot(), 'package.json'), 'utf8');
  return (JSON.parse(file) as { version: string }).version;
}
