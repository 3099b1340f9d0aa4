import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import type { Ends } from '../../dashboard/commands/both-ends.ts';
import { runVerb } from '../../shared/command/door.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { CheckResult } from '../../shared/protocol/outlet-check.ts';
import { quietSupply, type Synth, samples, truth } from '../watch/synth.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-ends-'));
vi.setConfig({ testTimeout: 60_000 });
const at = (name: string) => join(folder, name);
const plate = {
  ...{ name: 'bay welder', phases: 1, hertz: [60], supply: [{ U1: 240, I1max: 30, I1eff: 15 }] },
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
};
const circuit = { name: 'bay 2', volts: 240, cords: [{ awg: 12, feet: 100 }] };
/** The building's ohms, and the cord's. */
const [building, cord] = [0.3, 0.36];
const arcs = [
  { startS: 2, endS: 4.5, amps: 24 },
  { startS: 6, endS: 7.2, amps: 22 },
];
const outlet: Synth = {
  ...quietSupply,
  rateHz: 2_000,
  seconds: 9,
  arcs,
  ohmsR: building,
  ohmsX: 0,
};
const later = (synth: Synth, byS: number): Synth => ({
  ...synth,
  arcs: synth.arcs.map((arc) => ({ ...arc, startS: arc.startS - byS, endS: arc.endS - byS })),
});
const machine = later({ ...outlet, ohmsR: building + cord }, 0.731);

function csv(synth: Synth): string {
  const [volts, amps] = samples(synth);
  const rows = Array.from(
    volts,
    (v, n) => `${(n / synth.rateHz).toFixed(7)},${v.toFixed(4)},${amps[n]!.toFixed(4)}`,
  );
  return `t_s,v1_V,i1_A\n${rows.join('\n')}\n`;
}

async function judge(...words: string[]) {
  let [out, err] = ['', ''];
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation((text, done?: unknown) => {
    out += String(text);
    if (typeof done === 'function') done();
    return true;
  });
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
    err += String(text);
    return true;
  });
  try {
    const verbs = { judge: () => import('../../dashboard/commands/judge.ts') };
    return { status: await runVerb(verbs, ['judge', ...words]), out: () => out, err: () => err };
  } finally {
    stdout.mockRestore();
    stderr.mockRestore();
  }
}

beforeAll(() => {
  process.setMaxListeners(100);
  const twice = [
    { startS: 2, endS: 3, amps: 24 },
    { startS: 5, endS: 6, amps: 24 },
  ];
  const files = {
    'outlet.csv': csv(outlet),
    'machine.csv': csv(machine),
    'other.csv': csv({ ...machine, arcs: [{ startS: 1, endS: 1.6, amps: 30 }] }),
    'idle.csv': csv({ ...machine, arcs: [] }),
    // Two welds alike, of which the other recording has one.
    'twice.csv': csv({ ...outlet, arcs: twice }),
    'once.csv': csv({ ...machine, seconds: 4, arcs: twice.slice(0, 1) }),
    'plate.json': JSON.stringify(plate),
    'circuit.json': JSON.stringify(circuit),
  };
  for (const [name, text] of Object.entries(files)) writeFileSync(at(name), text);
});
afterAll(() => rmSync(folder, { recursive: true }));

const described = ['--plate', at('plate.json'), '--circuit', at('circuit.json')];

describe('two recordings of the same welds', () => {
  test('are laid side by side by their current; the machine’s end counts', async () => {
    const files = [at('outlet.csv'), '--machine-end', at('machine.csv')];
    const { status, out } = await judge(...files, ...described, '--json');
    expect(status).toBe(0);
    const told = JSON.parse(out()) as Judgement & { ends: Ends };
    const { alignedBy, lagS, arcs: welds, outlet: alone } = told.ends;
    expect(alignedBy).toBe('current');
    expect(lagS).toBeCloseTo(0.731, 2);
    expect(welds.map((weld) => [weld.outlet, weld.machine])).toEqual([
      [1, 1],
      [2, 2],
    ]);
    for (const [index, { split }] of welds.entries()) {
      expect(split.doubt).toBeNull();
      const { amps } = arcs[index]!;
      const fall = (synth: Synth) => truth(synth, synth.idleAmps).volts - truth(synth, amps).volts;
      const [above, below] = [fall(outlet), fall(machine)];
      const { building: wires, cord: long } = split.atArc!;
      expect(Math.abs(wires.volts - above)).toBeLessThan(0.05);
      expect(Math.abs(long.volts - (below - above))).toBeLessThan(0.05);
      expect(split.atFullLoad!.cord.fraction95[0]).toBeLessThan(split.atFullLoad!.cord.fraction);
    }
    // By itself it reads what the machine got, and adds no cord to it.
    expect(told.arcs[0]!.channels[0]!.minVolts200ms).toBeLessThan(
      alone.arcs[0]!.channels[0]!.minVolts200ms,
    );
  });

  test('are told in words', async () => {
    const files = [at('outlet.csv'), '--machine-end', at('machine.csv')];
    const { out } = await judge(...files, ...described);
    expect(out()).toContain('Where the volts went');
    expect(out()).toMatch(/The building took 6\.9 V .*, the cord 8\.2 V/);
  });

  test.each([
    ['other.csv', 'nowhere alike'],
    ['idle.csv', 'no arc in one of the two'],
  ])('%s is refused: %s', async (name, why) => {
    const { status, err } = await judge(at('outlet.csv'), '--machine-end', at(name));
    expect(status).toBe(1);
    expect(err()).toContain(why);
    expect(err().trim().split('\n')).toHaveLength(1);
  });

  test('that fit in two places are refused as such', async () => {
    const { status, err } = await judge(at('twice.csv'), '--machine-end', at('once.csv'));
    expect(status).toBe(1);
    expect(err()).toContain('more than one place');
  });
});

describe('a recording as an outlet check', () => {
  test('prints its steps and adds its key', async () => {
    const { out } = await judge(at('outlet.csv'), ...described, '--outlet-check', '--json');
    const { outletCheck } = JSON.parse(out()) as { outletCheck: CheckResult };
    expect(outletCheck).toMatchObject({
      ...{ schema: 'stiffline.outlet-check/1', recording: 'outlet.csv', machine: 'bay welder' },
      ...{ circuit: 'bay 2', sensorAt: 'unstated' },
    });
    // 221 V foretold, but a wire that full load warms may take two volts more: 216 V is near.
    expect(outletCheck.verdict).toBe('marginal');
    expect(outletCheck.beads[0]!.amps).toBeCloseTo(24, 0);
    const { out: text } = await judge(at('outlet.csv'), ...described, '--outlet-check');
    expect(text()).toContain('Bead 1: 2.5 s, 24.0 A, 80 % of full');
    expect(text()).toContain('Judged: Marginal');
  });

  test('without a bead says so', async () => {
    const { status, out } = await judge(at('idle.csv'), ...described, '--outlet-check');
    expect(status).toBe(0);
    expect(out()).toContain('No bead of some length was seen.');
  });
});
