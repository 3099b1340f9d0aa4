import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { runVerb } from '../../shared/command/door.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import { quietSupply, type Synth, samples } from '../watch/synth.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-judge-'));
const at = (name: string) => join(folder, name);
const feeder = new URL(
  '../../../shared/data/comtrade/feeder-60hz/feeder-60hz.cfg',
  import.meta.url,
);
const plate = {
  name: 'bay welder',
  phases: 1,
  hertz: [50, 60],
  supply: [{ U1: 240, I1max: 30, I1eff: 15 }],
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
  pulse: false,
  wireInches: [0.023, 0.035],
};
const circuit = {
  name: 'bay 2',
  volts: 240,
  phases: 1,
  breakerAmps: 50,
  receptacleAmps: 50,
  dedicated: true,
  branch: { awg: 10, metal: 'copper', feet: 60 },
  cords: [{ awg: 12, feet: 25 }],
  sensorAt: 'outlet',
};

/** Runs the verb as the front door does. */
async function stiffline(...words: string[]) {
  const out: string[] = [];
  const err: string[] = [];
  const catching = (into: string[]) => (text: unknown, done?: unknown) => {
    into.push(String(text));
    if (typeof done === 'function') done();
    return true;
  };
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation(catching(out));
  const stderr = vi.spyOn(process.stderr, 'write').mockImplementation(catching(err));
  try {
    const verbs = { judge: () => import('../../dashboard/commands/judge.ts') };
    const status = await runVerb(verbs, ['judge', ...words]);
    return { status, out: out.join(''), err: err.join('') };
  } finally {
    stdout.mockRestore();
    stderr.mockRestore();
  }
}

function csv(synth: Synth): string {
  const [volts, amps] = samples(synth);
  const rows = Array.from(volts, (v, n) => {
    const t = (n / synth.rateHz).toFixed(7);
    return `${t},${v.toFixed(4)},${amps[n]!.toFixed(4)}`;
  });
  return `t_s,v1_V,i1_A\n${rows.join('\n')}\n`;
}

beforeAll(() => {
  // The door listens for signals once a run; a process usually runs once.
  process.setMaxListeners(100);
  const arcs = [{ startS: 1.2, endS: 3.5, amps: 24 }];
  const good = { ...quietSupply, rateHz: 2_000, seconds: 5, arcs, noiseVolts: 0.1 };
  const whole = csv(good);
  const files: Record<string, string | Buffer> = {
    'good.csv': whole,
    'weak.csv': csv({ ...good, ohmsR: 1.3 }),
    'plate.json': JSON.stringify(plate),
    'light.json': JSON.stringify({ ...plate, supply: [{ U1: 120, I1max: 20 }] }),
    'circuit.json': JSON.stringify(circuit),
    'empty.csv': '',
    'cut.csv': whole.slice(0, 50_001),
    'junk.csv': Buffer.from(Array.from({ length: 4_000 }, (_, n) => (n * 7919) % 256)),
    'header.csv': 't_s,v1_V,amps\n0,1,2\n',
    'words.csv': 't_s,v1_V,i1_A\n0,1,2\n0.001,x,2\n',
    'bare.csv': 't_s,v1_V,i1_A\n',
  };
  for (const [name, text] of Object.entries(files)) writeFileSync(at(name), text);
});
afterAll(() => rmSync(folder, { recursive: true }));

describe('stiffline judge', () => {
  test('prints one JSON object with the keys that others rely on', async () => {
    const { status, out, err } = await stiffline(
      ...[at('good.csv'), '--plate', at('plate.json'), '--circuit', at('circuit.json'), '--json'],
    );
    expect([status, err]).toEqual([0, '']);
    const judgement = JSON.parse(out) as Judgement;
    expect(Object.keys(judgement)).toEqual(
      expect.arrayContaining([
        ...['schema', 'recording', 'nominal', 'frequencyHz', 'arcs', 'sags', 'swells', 'duty'],
        ...['supply', 'machine', 'findings', 'verdict', 'cautions'],
      ]),
    );
    expect(judgement.schema).toBe('stiffline.judgement/1');
    expect(judgement.recording).toMatchObject({ format: 'CSV', rateHz: 2_000, pairs: 1 });
    expect(judgement.verdict).toBe('adequate');
    expect(judgement.arcs).toHaveLength(1);
    expect(Object.keys(judgement.arcs[0]!.channels[0]!).sort()).toEqual(
      [
        ...['idleVolts', 'meanVolts', 'minVolts200ms', 'minVoltsHalfCycle', 'meanAmps'],
        ...[
          'idleAmps',
          'maxAmps200ms',
          'maxVolts200ms',
          'meanWatts',
          'powerFactor',
          'thdVoltsPercent',
          'thdAmpsPercent',
        ],
      ].sort(),
    );
    expect(out).not.toMatch(/NaN|Infinity/);
  });

  test('reports the verdict first, then why, figures, cautions', async () => {
    const { status, out } = await stiffline(at('weak.csv'), '--plate', at('plate.json'));
    expect(status).toBe(0);
    expect(out.split('\n')[0]).toMatch(/^▼ Underpowered: .*(the plate|it) needs 216 V[.]$/);
    const order = ['Why', 'Advice', 'Not asked', 'Figures', 'Cautions'].map((title) =>
      out.indexOf(`\n${title}\n`),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order[0]).toBeGreaterThan(0);
    expect(out).toMatch(/limit 216 V, IEC 60974-1/);
    // Not a terminal: no colours.
    expect(out).not.toContain('\u001b[');
  });

  test('without a plate it measures, and is unproven', async () => {
    const { out } = await stiffline(at('weak.csv'), '--json');
    const judgement = JSON.parse(out) as Judgement;
    expect(judgement.verdict).toBe('unproven');
    expect(judgement.sags).toHaveLength(1);
  });

  test('--fail-on exits 3 for that verdict or worse', async () => {
    const weak = [at('weak.csv'), '--plate', at('plate.json'), '--fail-on'];
    const good = [at('good.csv'), '--plate', at('plate.json'), '--fail-on'];
    expect((await stiffline(...weak, 'unsuited')).status).toBe(0);
    const wrong = [at('good.csv'), '--plate', at('light.json'), '--fail-on'];
    const told = await stiffline(...wrong, 'unsuited');
    expect(told.status).toBe(3);
    expect(told.out.split('\n')[0]).toMatch(/^☒ Wrong voltage: do not plug in\. This is a 240 V/);
    expect((await stiffline(...wrong, 'underpowered')).status).toBe(3);
    expect((await stiffline(...weak, 'underpowered')).status).toBe(3);
    expect((await stiffline(...weak, 'marginal')).status).toBe(3);
    expect((await stiffline(...good, 'marginal')).status).toBe(0);
    expect((await stiffline(...good, 'adequate')).status).toBe(3);
  });
});

describe('refusals are one line, without a stack', () => {
  test.each([
    ['empty.csv', /is empty/],
    ['cut.csv', /cut in the middle/],
    ['junk.csv', /line 1/],
    ['header.csv', /column 3.*"amps".*i1_A/],
    ['words.csv', /line 3, column 2.*"x"/],
    ['bare.csv', /row/],
    ['absent.csv', /no such file/],
  ])('%s', async (name, says) => {
    const { status, out, err } = await stiffline(at(name));
    expect(status).toBe(1);
    expect(out).toBe('');
    expect(err).toMatch(says);
    expect(err).toContain(name);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  test.each<[string, object | string, RegExp]>([
    ['an unknown key', { ...plate, colour: 'red' }, /colour is not a known key/],
    ['a deep unknown key', { ...plate, supply: [{ U1: 1, I1max: 2, z: 1 }] }, /supply\[0\]\.z/],
    ['a negative current', { ...plate, supply: [{ U1: 240, I1max: -1 }] }, /supply\[0\]\.I1max/],
    [
      'more effective than greatest current',
      { ...plate, supply: [{ U1: 240, I1max: 10, I1eff: 15 }] },
      /supply\[0\]\.I1eff must not be over I1max/,
    ],
    ['no supply', { name: 'x', phases: 1 }, /supply is missing/],
    ['two phases', { ...plate, phases: 2 }, /phases must be one of 1, 3/],
    ['a control character', { ...plate, name: 'a\u001b[2J' }, /name must be readable/],
    ['a list', [], /must be object/],
    ['no JSON', '{', /is no JSON/],
    ['a prototype', '{"__proto__":{"name":"x"}}', /__proto__ is not a known key|is missing/],
  ])('a plate with %s', async (_, value, says) => {
    writeFileSync(at('bad.json'), typeof value === 'string' ? value : JSON.stringify(value));
    const { status, out, err } = await stiffline(at('good.csv'), '--plate', at('bad.json'));
    expect([status, out]).toEqual([1, '']);
    expect(err).toMatch(says);
    expect(err).toMatch(/bad\.json: /);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  test.each<[string, object, RegExp]>([
    ['two sizes', { branch: { awg: 10, mm2: 6, feet: 9 } }, /branch has awg and mm2: give one/],
    ['two lengths', { cords: [{ awg: 12, feet: 9, metres: 3 }] }, /cords\[0\] has feet and metres/],
    ['no size', { cords: [{ feet: 9 }] }, /cords\[0\] has no size/],
    ['no length', { cords: [{ awg: 12 }] }, /cords\[0\] has no length/],
    ['no such gauge', { branch: { awg: 99, feet: 9 } }, /branch\.awg/],
    ['a sensor elsewhere', { sensorAt: 'roof' }, /sensorAt must be one of "outlet", "machine"/],
  ])('a circuit with %s', async (_, change, says) => {
    writeFileSync(at('bad.json'), JSON.stringify({ ...circuit, ...change }));
    const { status, err } = await stiffline(at('good.csv'), '--circuit', at('bad.json'));
    expect(status).toBe(1);
    expect(err).toMatch(says);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  test('wrong usage exits 2', async () => {
    const wrong = [[], ['a', 'b'], ['a', '--nope'], ['a', '--fail-on', 'bad'], ['a', '--plate']];
    for (const words of wrong) {
      const { status, err } = await stiffline(...words);
      expect(status).toBe(2);
      expect(err.trim().split('\n')).toHaveLength(1);
    }
  });

  test('what is possible and does not fit is asked about', async () => {
    const odd = { ...plate, ratings: [{ X: 0.3, I2: 400, U2: 34 }] };
    writeFileSync(at('odd.json'), JSON.stringify(odd));
    const { status, out } = await stiffline(at('good.csv'), '--plate', at('odd.json'), '--json');
    expect(status).toBe(0);
    expect((JSON.parse(out) as Judgement).cautions.join()).toMatch(/Is the plate read right\?/);
  });
});

describe.skipIf(!existsSync(feeder))('a real record (skipped without ../shared/data)', () => {
  test('r.m.s., power and power factor as computed independently', async () => {
    const { status, out } = await stiffline(feeder.pathname, '--json');
    expect(status).toBe(0);
    const { whole, recording } = JSON.parse(out) as Judgement;
    expect(recording).toMatchObject({ format: 'COMTRADE 1999 ASCII', pairs: 3 });
    const expected = [
      [348.951, 126.1079, 40500.22, 0.92034],
      [352.2239, 151.8316, 49502.44, 0.92565],
      [345.9534, 166.6957, 53633.93, 0.93003],
    ] as const;
    expected.forEach(([volts, amps, watts, factor], pair) => {
      expect(whole[pair]!.volts / volts).toBeCloseTo(1, 5);
      expect(whole[pair]!.amps / amps).toBeCloseTo(1, 5);
      expect(whole[pair]!.watts / watts).toBeCloseTo(1, 5);
      expect(whole[pair]!.powerFactor).toBeCloseTo(factor, 4);
    });
  });
});
