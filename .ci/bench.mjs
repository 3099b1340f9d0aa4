// Runs the benchmarks one after another: `npm run bench`, or `npm run bench -- kernel judge --json`.
// Each prints its rival and its limit beside itself; no speed is asserted anywhere.
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { cpus } from 'node:os';

const folder = 'tests/bench';
const all = readdirSync(folder)
  .filter((name) => name.endsWith('.ts'))
  .map((name) => name.slice(0, -3));
const words = process.argv.slice(2);
const flags = words.filter((word) => word.startsWith('--'));
const names = words.filter((word) => !word.startsWith('--'));
const strange = names.filter((name) => !all.includes(name));
if (strange.length > 0) {
  process.stderr.write(`no benchmark ${strange.join(', ')}; there are ${all.join(', ')}\n`);
  process.exit(2);
}
if (!flags.includes('--json'))
  console.log(
    `${cpus()[0]?.model ?? 'processor not told'}, ${cpus().length} cores, Node ${process.version}`,
  );
let failed = 0;
for (const name of names.length > 0 ? names : all) {
  if (!flags.includes('--json')) console.log(`\n${name}`);
  const args = ['--import', './.ci/types-off.mjs', `${folder}/${name}.ts`, ...flags];
  const run = spawnSync(process.execPath, args, { stdio: ['ignore', 1, 2] });
  if (run.status !== 0) failed++;
}
process.exit(failed === 0 ? 0 : 1);
