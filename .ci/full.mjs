// The long run, `npm run test:full`: the ordinary tests, then 200 seeds of every scenario for the
// confusion table, 40 of the truth, 20,000 supplies drawn by numpy, 1,500 of every condition of the supply's interval, and thousands
// of the whole system on its virtual clock, two at a time. `npm run test:full -- --seeds 50 --system
// 1000` asks for fewer, `--only` leaves the ordinary tests out, `--draw` puts the table into
// DEVELOPERS.md as well as printing it. A failing seed prints the one command that shows it again.
import { spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';

const asked = parseArgs({
  options: {
    seeds: { type: 'string', default: '200' },
    system: { type: 'string', default: '4000' },
    only: { type: 'boolean', default: false },
    draw: { type: 'boolean', default: false },
  },
}).values;
const seeds = Number(asked.seeds);
const system = Number(asked.system);
if (!(Number.isInteger(seeds) && seeds > 0 && Number.isInteger(system) && system > 0)) {
  process.stderr.write('--seeds and --system are whole numbers from 1 on\n');
  process.exit(2);
}

const vitest = (...words) => ['node_modules/vitest/vitest.mjs', 'run', ...words];
const simulation = (file) =>
  vitest('--project', 'simulation', `tests/simulation/${file}`, '--reporter', 'default');

/** One after another within a lane, lanes beside each other. */
const lanes = [
  [
    {
      words: simulation('confusion'),
      set: {
        STIFFLINE_CONFUSION_SEEDS: seeds,
        STIFFLINE_CONFUSION_LONG: seeds,
        ...(asked.draw ? { STIFFLINE_DRAW: 1 } : {}),
      },
    },
  ],
  [
    { words: simulation('whole-system'), set: { STIFFLINE_SIMULATION_SEEDS: system } },
    { words: simulation('truth'), set: { STIFFLINE_TRUTH_SEEDS: Math.ceil(seeds / 5) } },
    {
      words: vitest('--project', 'unit', 'tests/metrology/supply-coverage.test.ts'),
      set: { STIFFLINE_COVERAGE_SEEDS: Math.ceil(7.5 * seeds) },
    },
    {
      words: vitest('--project', 'reference', 'tests/reference/drawn-supplies.test.ts'),
      set: { STIFFLINE_DRAWN: 100 * seeds },
    },
  ],
];

const run = ({ words, set }) =>
  new Promise((resolve) => {
    const env = { ...process.env };
    for (const [name, value] of Object.entries(set)) env[name] = String(value);
    spawn(process.execPath, words, { env, stdio: ['ignore', 1, 2] }).on('close', resolve);
  });

async function inTurn(lane) {
  let failed = 0;
  for (const each of lane) if ((await run(each)) !== 0) failed += 1;
  return failed;
}

const ordinary = asked.only ? 0 : spawnSync('npm', ['test'], { stdio: 'inherit' }).status;
const failed = await Promise.all(lanes.map(inTurn));
process.stdout.write(`\n${readFileSync('tests/.out/confusion.md', 'utf8')}`);
process.exit(ordinary === 0 && failed.every((count) => count === 0) ? 0 : 1);
