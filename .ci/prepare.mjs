// Runs after `npm ci`: what the lock file cannot say.
// Node 20 has no SQLite of its own, so its add-on is compiled there, once, outside the lock file:
// newer Nodes then compile nothing. Then the first build, so that `npx stiffline` works at once.
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';

const addOn = { folder: 'node_modules/.sqlite', version: 'better-sqlite3@12.11.1' };
const hasOwn = process.getBuiltinModule?.('node:sqlite') !== undefined;

if (!hasOwn && !existsSync(`${addOn.folder}/node_modules/better-sqlite3/build/Release`)) {
  process.stderr.write(
    `stiffline: Node ${process.version} has no SQLite: compiling ${addOn.version}, a minute or two …\n`,
  );
  mkdirSync(addOn.folder, { recursive: true });
  writeFileSync(`${addOn.folder}/package.json`, '{ "private": true }\n');
  const npm = process.env.npm_execpath;
  const args = [
    'install',
    '--prefix',
    addOn.folder,
    '--no-audit',
    '--no-fund',
    '--no-package-lock',
    addOn.version,
  ];
  const run = npm
    ? spawnSync(process.execPath, [npm, ...args], { stdio: ['ignore', 2, 2], env: environment() })
    : spawnSync('npm', args, { stdio: ['ignore', 2, 2], env: environment() });
  if (run.status !== 0) {
    process.stderr.write(
      'stiffline: the SQLite add-on did not compile (needs python3, make and a C++ compiler); Node 22.13 or newer needs none\n',
    );
    process.exit(1);
  }
}

/** npm hands its own settings down as npm_*; the inner npm must not take the outer's prefix for its own. */
function environment() {
  return Object.fromEntries(
    Object.entries(process.env).filter(
      ([name]) =>
        !/^npm_(config_(local_prefix|prefix|global_prefix|ignore_scripts)|package_|lifecycle_)/i.test(
          name,
        ),
    ),
  );
}

if (existsSync('node_modules/typescript')) {
  const build = spawnSync(process.execPath, ['.ci/build.mjs', '--if-due'], {
    stdio: ['ignore', 2, 2],
  });
  process.exit(build.status ?? 1);
}
