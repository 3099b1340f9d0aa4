import { describe, expect, test } from 'vitest';
import { sliceS, sliceSteps, stepsPerSecond } from '../../simulator/electrics/clockwork.ts';
import { parseScenario } from '../../simulator/electrics/parse-scenario.ts';
import { Random } from '../../simulator/electrics/random.ts';
import type { Generator, Utility } from '../../simulator/electrics/scenario.ts';
import { healthySteel } from '../../simulator/electrics/scenarios/healthy.ts';
import { generator, utility240 } from '../../simulator/electrics/scenarios/parts.ts';
import { GeneratorSource, UtilitySource } from '../../simulator/electrics/source.ts';
import { Wander } from '../../simulator/electrics/wander.ts';

const supplyOf = (supply: object) =>
  parseScenario({ ...healthySteel, bays: [{ ...healthySteel.bays[0], supply }] }).bays[0]!.supply;
const utility = supplyOf(utility240) as Utility;
const set = supplyOf(generator) as Generator;

describe('utility', () => {
  test('its wave has the r.m.s. it says, harmonics and all', () => {
    const still = { ...utility, wanderPercent: 0, wanderHertz: 0 };
    const source = new UtilitySource(still, 240, 60, 1, new Random(1, 's'));
    let squares = 0;
    for (let step = 0; step < stepsPerSecond; step++) {
      if (step % sliceSteps === 0) source.slice(0, 0);
      source.step();
      squares += source.emf[0]! ** 2;
    }
    expect(Math.sqrt(squares / stepsPerSecond)).toBeCloseTo(240, 2);
  });

  test('two legs are opposed, three phases follow each other', () => {
    const pure = { ...utility, harmonics: [] };
    const legs = new UtilitySource(pure, 120, 60, 2, new Random(1, 's'));
    const phases = new UtilitySource(pure, 120, 60, 3, new Random(1, 's'));
    for (const source of [legs, phases]) source.slice(0, 0);
    for (let step = 0; step < 1000; step++) {
      legs.step();
      phases.step();
      expect(legs.emf[0]! + legs.emf[1]!).toBeCloseTo(0, 3);
      expect(phases.emf[0]! + phases.emf[1]! + phases.emf[2]!).toBeCloseTo(0, 3);
    }
  });

  test('volts and frequency wander slowly and a little', () => {
    const source = new UtilitySource(utility, 240, 60, 1, new Random(2, 's'));
    const volts: number[] = [];
    let hertzOff = 0;
    for (let slice = 0; slice < 100 / sliceS; slice++) {
      source.slice(0, 0);
      volts.push(source.rms);
      hertzOff = Math.max(hertzOff, Math.abs(source.hertz - 60));
    }
    expect(hertzOff).toBeLessThan(0.1);
    expect(Math.max(...volts) - Math.min(...volts)).toBeGreaterThan(0.5);
    expect(Math.max(...volts) - Math.min(...volts)).toBeLessThan(6);
    const jumps = volts.slice(1).map((each, at) => Math.abs(each - volts[at]!));
    expect(Math.max(...jumps)).toBeLessThan(0.3);
  });
});

describe('generator', () => {
  /** Slices under a load, then what it came to. */
  function load(source: GeneratorSource, watts: number, seconds: number) {
    const hertz: number[] = [];
    const rms: number[] = [];
    for (let slice = 0; slice < seconds / sliceS; slice++) {
      source.slice(watts, (watts / 243) ** 2);
      hertz.push(source.hertz);
      rms.push(source.rms);
    }
    return { hertz, rms, endHertz: hertz.at(-1)!, endRms: rms.at(-1)! };
  }

  test('droops with load, swings on the way, and comes back', () => {
    const source = new GeneratorSource(set, 243, 60, 1, new Random(1, 's'));
    const idle = load(source, 0, 5);
    expect(idle.endHertz).toBeCloseTo(61.5, 1);
    const full = load(source, 7000, 5);
    expect(full.endHertz).toBeCloseTo(58.5, 1);
    expect(Math.min(...full.hertz)).toBeLessThan(full.endHertz - 0.2);
    expect(load(source, 0, 5).endHertz).toBeCloseTo(61.5, 1);
  });

  test('its volts fall within tenths, the regulator answers later, to its ceiling', () => {
    const source = new GeneratorSource(set, 243, 60, 1, new Random(1, 's'));
    load(source, 0, 3);
    const full = load(source, 7000, 4);
    const lowest = Math.min(...full.rms);
    expect(lowest).toBeLessThan(0.95 * 243);
    expect(full.endRms).toBeGreaterThan(lowest);
    expect(full.endRms).toBeLessThan(243 * 0.98);
    const off = load(source, 0, 0.3);
    expect(Math.max(...off.rms)).toBeGreaterThan(243 * 1.02);
  });
});

test('overloaded, an engine is dragged down with its volts, and recovers', () => {
  const source = new GeneratorSource(set, 243, 60, 1, new Random(1, 's'));
  for (let slice = 0; slice < 5 / sliceS; slice++) source.slice(10_000, 41 ** 2);
  expect(source.hertz).toBeLessThan(50);
  expect(source.hertz).toBeGreaterThanOrEqual(36);
  expect(source.rms).toBeLessThan(0.85 * 243);
  for (let slice = 0; slice < 5 / sliceS; slice++) source.slice(0, 0);
  expect(source.hertz).toBeCloseTo(61.5, 1);
});

test('a wander keeps its deviation and its memory', () => {
  const wander = new Wander(new Random(3, 'w'), 2, 1, 0.01);
  const values = Array.from({ length: 200_000 }, () => wander.next());
  const square = values.reduce((sum, each) => sum + each * each, 0) / values.length;
  expect(Math.sqrt(square) / 2).toBeCloseTo(1, 1);
  const lagged = values.slice(100).reduce((sum, each, at) => sum + each * values[at]!, 0);
  expect(lagged / (values.length - 100) / square).toBeCloseTo(Math.exp(-1), 1);
});
