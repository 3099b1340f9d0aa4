// Runs after `npm ci`: what the lock file cannot say.
// Node 20 has no SQLite of its own, so its add-on is compiled there, once, outside the lock file:
// newer Nodes then compile nothing. Beside it the first build, so that `npx stiffline` works at once.
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';

const addOn = { folder: 'node_modules/.sqlite', version: 'better-sqlite3@12.11.1' };
const hasOwn = process.getBuiltinModule?.('node:sqlite') !== undefined;

/** npm hands its own settings down as npm_*; the inner npm must not take the outer's prefix for its own. */
function environment() {
  const own = Object.entries(process.env).filter(
    ([name]) =>
      !/^npm_(config_(local_prefix|prefix|global_prefix|ignore_scripts)|package_|lifecycle_)/i.test(
        name,
      ),
  );
  // The compiler takes as many files at once as there are cores.
  return { JOBS: 'max', ...Object.fromEntries(own) };
}

/** The exit status of a program that speaks on stderr; 1 where there was none. */
const run = (command, args, env = process.env) =>
  new Promise((resolve) => {
    const child = spawn(command, args, { stdio: ['ignore', 2, 2], env });
    child.on('error', () => resolve(1));
    child.on('close', (status) => resolve(status ?? 1));
  });

async function compileAddOn() {
  if (hasOwn || existsSync(`${addOn.folder}/node_modules/better-sqlite3/build/Release`)) return 0;
  process.stderr.write(
    `stiffline: Node ${process.version} has no SQLite: compiling ${addOn.version}, a minute or two …\n`,
  );
  mkdirSync(addOn.folder, { recursive: true });
  writeFileSync(`${addOn.folder}/package.json`, '{ "private": true }\n');
  const npm = process.env.npm_execpath;
  const args = ['install', '--prefix', addOn.folder, '--no-audit', '--no-fund'];
  const words = [...args, '--no-package-lock', addOn.version];
  const status = npm
    ? await run(process.execPath, [npm, ...words], environment())
    : await run('npm', words, environment());
  if (status !== 0)
    process.stderr.write(
      'stiffline: the SQLite add-on did not compile (needs python3, make and a C++ compiler); Node 22.13 or newer needs none\n',
    );
  return status;
}

const build = () =>
  existsSync('node_modules/typescript')
    ? run(process.execPath, ['.ci/build.mjs', '--if-due'])
    : Promise.resolve(0);

const failed = (await Promise.all([compileAddOn(), build()])).some((status) => status !== 0);
process.exit(failed ? 1 : 0);
