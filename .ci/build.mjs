// Builds dist/: the programs by the compiler, the page by the bundler.
// --if-due: only when a source is newer than the last build.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const stamp = 'dist/.built';
const sources = ['broker', 'simulator', 'dashboard', 'shared', 'stiffline.ts', 'package.json'];

function newestMs(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return Math.max(stat.mtimeMs, ...readdirSync(path).map((name) => newestMs(join(path, name))));
}

function step(says, script, ...args) {
  process.stderr.write(`stiffline: ${says} …\n`);
  const started = Date.now();
  const run = spawnSync(process.execPath, [script, ...args], { stdio: ['ignore', 2, 2] });
  if (run.status !== 0) {
    process.stderr.write(`stiffline: ${says} failed\n`);
    process.exit(1);
  }
  process.stderr.write(`stiffline: ${says}: ${((Date.now() - started) / 1000).toFixed(1)} s\n`);
}

const due = !existsSync(stamp) || Math.max(...sources.map(newestMs)) > statSync(stamp).mtimeMs;
if (due || !process.argv.includes('--if-due')) {
  step(
    'building the programs (1 of 2)',
    'node_modules/typescript/bin/tsc',
    '-b',
    'tsconfig.front.json',
  );
  step(
    'building the page (2 of 2)',
    'node_modules/vite/bin/vite.js',
    'build',
    '--logLevel',
    'warn',
    'dashboard/web',
  );
  writeFileSync(stamp, `${new Date().toISOString()}\n`);
}
