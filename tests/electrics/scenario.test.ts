import { describe, expect, test } from 'vitest';
import {
  parseScenario,
  ScenarioError,
  scenarioByName,
  scenarioNames,
} from '../../simulator/electrics/index.ts';
import { healthySteel } from '../../simulator/electrics/scenarios/healthy.ts';

type Json = { bays: Record<string, unknown>[] } & Record<string, unknown>;
const good = (): Json => JSON.parse(JSON.stringify(healthySteel)) as Json;

/** The good scenario with one value put at a path such as `bays.0.work.perS`. */
function withValue(path: string, value: unknown): unknown {
  const json = good();
  const keys = path.split('.');
  let place: Record<string, unknown> = json;
  for (const key of keys.slice(0, -1)) {
    place[key] ??= {};
    place = place[key] as Record<string, unknown>;
  }
  place[keys.at(-1)!] = value;
  return json;
}

function problemsOf(json: unknown): readonly { path: string; says: string }[] {
  try {
    parseScenario(json);
  } catch (error) {
    if (error instanceof ScenarioError) return error.problems;
    throw error;
  }
  return [];
}

describe('scenario', () => {
  test('every built-in one is listed once and holds', () => {
    const names = scenarioNames();
    expect(new Set(names).size).toBe(names.length);
    for (const name of names) expect(scenarioByName(name)?.name).toBe(name);
    expect(scenarioByName('nowhere')).toBeNull();
  });

  test('there is one for every fault that a rule must find', () => {
    expect(scenarioNames()).toEqual(
      expect.arrayContaining([
        'harbour-lane',
        'long-thin-cord',
        'shared-circuit',
        'thin-branch',
        '208-under-240',
        'weak-generator',
        'open-neutral',
        'lost-phase',
        'light-bead',
        'overrun-duty',
        'cold-set-up',
        'hot-set-up',
      ]),
    );
  });

  test('the demonstration shop is four bays with at least four sensors', () => {
    const shop = scenarioByName('harbour-lane')!;
    expect(shop.bays).toHaveLength(4);
    expect(shop.bays.flatMap(({ sensors }) => sensors).length).toBeGreaterThanOrEqual(4);
    expect(new Set(shop.bays.map(({ circuit }) => circuit.volts))).toEqual(
      new Set([120, 240, 208]),
    );
    expect(shop.bays.some(({ supply }) => supply.kind === 'generator')).toBe(true);
  });

  test('what was read reads again to the same', () => {
    for (const name of scenarioNames()) {
      const once = scenarioByName(name)!;
      expect(parseScenario(JSON.parse(JSON.stringify(once)))).toEqual(once);
    }
  });

  test.each([
    ['name', 'Harbour Lane', 'name'],
    ['colour', 'red', 'colour'],
    ['bays', [], 'bays'],
    ['bays.0.machine.kind', 'magic', 'bays[0].machine.kind'],
    ['bays.0.machine.farads', 5, 'bays[0].machine.farads'],
    ['bays.0.machine.fards', 0.001, 'bays[0].machine.fards'],
    ['bays.0.supply.ohmsR', '0.1', 'bays[0].supply.ohmsR'],
    ['bays.0.supply.ohmsR', -1, 'bays[0].supply.ohmsR'],
    ['bays.0.work.perS', [130, 70], 'bays[0].work.perS'],
    ['bays.0.work.settings', [{ fromS: 3, amps: 90 }], 'bays[0].work.settings[0].fromS'],
    ['bays.0.circuit.branch', { awg: 11, feet: 10 }, 'bays[0].circuit.branch.awg'],
    ['bays.0.circuit.branch', { feet: 10 }, 'bays[0].circuit.branch'],
    ['bays.0.circuit.branch', { awg: 12, mm2: 4, feet: 10 }, 'bays[0].circuit.branch'],
    ['bays.0.circuit.cords', [{ awg: 12 }], 'bays[0].circuit.cords[0]'],
    ['bays.0.sensors', [{ name: 'a b', at: 'machine' }], 'bays[0].sensors[0].name'],
    ['bays.0.sensors', [{ name: 'a', at: 'roof' }], 'bays[0].sensors[0].at'],
    ['bays.0.sensors.0.bits', 13, 'bays[0].sensors[0].bits'],
    ['bays.0.machine.lines', [2], 'bays[0].machine.lines'],
    ['bays.0.events', [{ kind: 'neutral-opens', atS: 1 }], 'bays[0].events[0]'],
    ['bays.0.wires', 'three', 'bays[0].wires'],
    ['bays.0.plate.supply', [{ U1: 240 }], 'bays[0].plate.supply[0].I1max'],
  ])('%s = %j is refused by path', (path, value, where) => {
    const problems = problemsOf(withValue(path, value));
    expect(problems.map((each) => each.path)).toContain(where);
    expect(problems.every(({ says }) => says.length > 5)).toBe(true);
  });

  test('two sensors of one name, and a three-phase machine on two wires, are refused', () => {
    const sensors = [
      { name: 'a', at: 'machine' },
      { name: 'a', at: 'outlet' },
    ];
    expect(problemsOf(withValue('bays.0.sensors', sensors))[0]?.path).toBe('sensor a');
    const machine = { kind: 'three-phase-rectifier', volts: 208, maxAmps: 200, farads: 0.001 };
    expect(problemsOf(withValue('bays.0.machine', machine))[0]?.path).toBe('bays[0].machine.kind');
  });

  test.each([[null], [3], ['x'], [[]], [{}]])('%j is no scenario', (json) => {
    expect(problemsOf(json).length).toBeGreaterThan(0);
  });

  test('every problem is told at once, in one line', () => {
    const json = withValue('bays.0.supply.ohmsR', 'x') as Json;
    json.bays[0]!.colour = 'red';
    expect(() => parseScenario(json)).toThrow(/bays\[0\]\.supply\.ohmsR .*; bays|bays.*colour/);
    expect(problemsOf(json)).toHaveLength(2);
  });
});
