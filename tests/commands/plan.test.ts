import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { main } from '../../dashboard/commands/plan.ts';
import type { Plan } from '../../shared/protocol/planning.ts';
import { circuit, machine, need } from '../rules/planning-given.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-plan-'));
afterAll(() => rmSync(folder, { recursive: true }));

function file(name: string, value: unknown): string {
  const path = join(folder, name);
  writeFileSync(path, typeof value === 'string' ? value : JSON.stringify(value));
  return path;
}

const files = (lists: { machines?: unknown; circuits?: unknown; needs?: unknown } = {}) => [
  ...['--machines', file('machines.json', lists.machines ?? [machine()])],
  ...['--circuits', file('circuits.json', lists.circuits ?? [circuit()])],
  ...['--needs', file('needs.json', lists.needs ?? [need()])],
];

/** What the command writes on stdout. */
async function out(...argv: string[]): Promise<string> {
  let text = '';
  const write = process.stdout.write;
  process.stdout.write = ((chunk: string, done?: () => void) => {
    text += chunk;
    done?.();
    return true;
  }) as typeof write;
  try {
    expect(await main(argv)).toBe(0);
  } finally {
    process.stdout.write = write;
  }
  return text;
}

test('the program, from outside: one JSON object with the fixed keys, exit 0', () => {
  const root = fileURLToPath(new URL('../..', import.meta.url));
  const argv = ['--import', 'tsx', 'stiffline.ts', 'plan', ...files(), '--json'];
  const run = spawnSync(process.execPath, argv, { cwd: root, encoding: 'utf8' });
  expect(run.stderr).toBe('');
  expect(run.status).toBe(0);
  const made = JSON.parse(run.stdout) as Plan;
  expect(made.matrix[0]).toMatchObject({
    machine: 'pulse 220',
    circuit: 'bay 2',
    verdict: 'adequate',
    voltsAtFullLoad: expect.closeTo(236.83, 1),
  });
  expect(made.matrix[0]!.findings.length).toBeGreaterThan(2);
  expect(made.covers).toEqual([{ need: 'rails', machines: ['pulse 220'], marginal: [] }]);
  expect(made.smallestSet).toMatchObject({ machines: ['pulse 220'], price: 6000 });
  expect(made.alternatives).toEqual([]);
  expect(made.uncovered).toEqual([]);
});

test('every finding names its source', async () => {
  const light = machine({ name: 'light', supply: [{ U1: 120, I1max: 20 }] });
  const made = JSON.parse(await out(...files({ machines: [machine(), light] }), '--json')) as Plan;
  const findings = made.matrix.flatMap((row) => row.findings);
  expect(findings.every(({ source }) => source.length > 10)).toBe(true);
});

test('as text: sets, needs, table, reasons, cautions; no colour into a pipe', async () => {
  const yard = circuit({ name: 'yard', supply: { openVolts: 238, ohmsR: 1, ohmsX: 0 } });
  const roof = need({ name: 'roof', minAmps: 500 });
  const text = await out(...files({ circuits: [circuit(), yard], needs: [need(), roof] }));
  expect(text).toContain('pulse 220, 6000 to pay: covers 1 of 2 needs.');
  expect(text).toMatch(/roof: No machine of the list.*\n.*It gives 220 A at most; 500 A/);
  expect(text).toMatch(/pulse 220 +● 237 V +▼ \d+ V/);
  expect(text).toMatch(/▼ pulse 220 on yard: At the plate's full 30 A the voltage would fall/);
  expect(text).toContain('licensed electrician');
  expect(text).not.toContain('\u001b');
});

test('what does not fit in a plate is asked about', async () => {
  const odd = machine({ ratings: [{ X: 0.4, I2: 400, U2: 34 }] });
  expect(await out(...files({ machines: [odd] }))).toContain('Is the plate read right?');
});

describe('refused in one line, by path', () => {
  const { price: _, ...unpriced } = machine();
  test.each([
    ['no list', { machines: machine() }, 'the list of machines must be a list'],
    ['nothing in it', { circuits: [] }, 'has 0 entries; 1 to 500'],
    ['no JSON', { needs: '{' }, 'is no JSON'],
    ['an entry that is none', { needs: [7] }, '[0] must be an object'],
    ['an unknown key', { machines: [{ ...machine(), colour: 1 }] }, '[0].colour is not a known'],
    ['an impossible plate', { machines: [machine({ supply: [] })] }, '[0].supply'],
    ['a negative price', { machines: [machine({ price: -1 })] }, '[0].price must be >= 0'],
    ['no price', { machines: [unpriced] }, '[0].price is missing'],
    ['no process', { machines: [machine({ processes: [] })] }, '[0].processes'],
    ['another process', { needs: [{ name: 'n', process: 'stick' }] }, '[0].process must be one of'],
    ['two of a name', { machines: [machine(), machine()] }, '[1].name is "pulse 220", as [0] is'],
    ['a name that hides', { needs: [need({ name: 'a\u202eb' })] }, '[0].name must be readable'],
    [
      'an impossible supply',
      { circuits: [{ ...circuit(), supply: { openVolts: 0, ohmsR: 0.1, ohmsX: 0 } }] },
      '[0].supply.openVolts must be > 0',
    ],
    [
      'an interval without its value',
      {
        circuits: [
          { ...circuit(), supply: { openVolts: 240, ohmsR: 0.1, ohmsX: 0, ohmsR95: [0.2, 0.3] } },
        ],
      },
      '[0].supply.ohmsR95 must hold ohmsR, which is 0.1',
    ],
    ['a wire of two sizes', { circuits: [circuit({ branch: { awg: 8, mm2: 6 } })] }, '[0].branch'],
  ])('%s', async (_name, lists, says) => {
    const error = await main(files(lists)).then(
      () => null,
      (thrown: Error) => thrown,
    );
    expect(error?.name).toBe('OperatingError');
    expect(error?.message).toContain(says);
    expect(error?.message).not.toContain('\n');
  });

  test('a file that is not there, a flag that is missing', async () => {
    const [, , ...two] = files();
    await expect(main(['--machines', join(folder, 'none.json'), ...two])).rejects.toThrow(
      'there is no such file',
    );
    await expect(main(two)).rejects.toThrow('--machines is missing');
  });
});

test('an owned machine needs no price', async () => {
  const { price: _, ...old } = machine({ owned: true });
  expect(await out(...files({ machines: [old] }))).toContain('pulse 220, 0 to pay');
});

test('a supply pasted whole out of a judgement is taken', async () => {
  const supply = {
    openVolts: 241,
    ohmsR: 0.13,
    ohmsX: 0.05,
    ohmsR95: [0.12, 0.14],
    ohmsX95: [0.02, 0.08],
    steps: 4,
  };
  const made = JSON.parse(
    await out(...files({ circuits: [{ ...circuit(), supply }] }), '--json'),
  ) as Plan;
  expect(made.matrix[0]!.verdict).toBe('adequate');
});

test('feeders: in the JSON and as text, and refused by path', async () => {
  const feeder = {
    name: 'bays',
    volts: 240,
    breakerAmps: 100,
    conductor: { awg: 4, metal: 'copper', feet: 80 },
    circuits: ['bay 2'],
  };
  const with_ = (value: unknown) => [...files(), '--feeders', file('feeders.json', value)];
  const made = JSON.parse(await out(...with_([feeder]), '--json')) as Plan;
  expect(made.feeders).toMatchObject([
    { feeder: 'bays', machines: ['pulse 220'], groupAmps: 19, fullAmps: 30, carriesAmps: 70 },
  ]);
  const text = await out(...with_([feeder]));
  expect(text).toContain('Feeders\n  ● bays: pulse 220');
  expect(text).toContain('one machine asks 19 A effective');
  expect(JSON.parse(await out(...files(), '--json'))).toMatchObject({ feeders: [] });
  await expect(main(with_([{ ...feeder, circuits: ['yard'] }]))).rejects.toThrow(
    /feeders.json: \[0\].circuits\[0\] is "yard", and no circuit has that name/,
  );
});
