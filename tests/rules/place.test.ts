import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import { cautionsFor } from '../../shared/rules/cautions.ts';
import { headline } from '../../shared/rules/headline.ts';
import { judgeArc } from '../../shared/rules/judge.ts';
import { placed, placeOf, sensorPlace } from '../../shared/rules/place.ts';
import { parts as german } from '../../shared/words/de/parts.ts';
import { arc, evidence, setting } from './given.ts';
import { expectBothLanguages, toldIn } from './sayings.ts';

const circuit: Circuit = { name: 'bay', volts: 240 };

describe('where a voltage is told of', () => {
  test.each([
    [null, null, 'unstated'],
    [null, circuit, 'unstated'],
    [null, { ...circuit, sensorAt: 'outlet' as const }, 'machine'],
    [null, { ...circuit, sensorAt: 'machine' as const }, 'machine'],
    // A cord after an outlet is known from its circuit's description alone.
    ['outlet' as const, null, 'outlet'],
    ['outlet' as const, circuit, 'machine'],
    ['machine' as const, null, 'machine'],
  ])('sensor %s, circuit %j: %s', (stated, of, place) => {
    expect(placeOf(stated, of)).toBe(place);
  });

  test('the sensor knows better than what was said of its circuit', () => {
    const described: Circuit = { ...circuit, sensorAt: 'outlet' };
    expect(sensorPlace('machine', described)).toBe('machine');
    expect(sensorPlace(undefined, described)).toBe('outlet');
    expect(placed(described, 'machine')!.sensorAt).toBe('machine');
    expect(placed(described, null)!.sensorAt).toBe('outlet');
    expect(placed(circuit, null)).toEqual(circuit);
  });
});

describe('a good verdict is good where it was measured', () => {
  const at = (place: 'machine' | 'outlet' | 'unstated', minVolts200ms = 235) => {
    const { verdict, findings } = judgeArc(setting({ place }), arc({ minVolts200ms }), evidence());
    return { said: headline(verdict, findings, place), findings };
  };

  test('the headline and the findings name the place, unless it is the machine', () => {
    expect(at('machine').said).toMatch(/^Adequate: /);
    expect(at('outlet').said).toMatch(/^Adequate at the outlet: /);
    const { said, findings } = at('unstated');
    expect(said).toMatch(/^Adequate at the sensor: /);
    const held = findings.find(({ rule }) => rule === 'plate-voltage')!;
    expect(held.says).toMatch(/^The voltage at the sensor held at 235 V/);
    const load = findings.find(({ rule }) => rule === 'full-load')!;
    expect(load.says).toMatch(/the voltage at the sensor would hold/);
    expectBothLanguages(toldIn(findings));
  });

  test('a bad one is bad everywhere after it', () => {
    expect(at('unstated', 190).said).toMatch(/^Underpowered: the voltage fell to 190 V/);
  });

  test('whoever reads it is told that the place was not said', () => {
    const says = (place: 'machine' | 'unstated') => cautionsFor(setting({ place }), []).join(' ');
    expect(says('unstated')).toMatch(/Nobody said whether the sensor is at the outlet/);
    expect(says('machine')).not.toMatch(/Nobody said/);
  });

  test('in German too', () => {
    expect(german.verdictAt('adequate', 'unstated')).toBe('Ausreichend am Sensor');
    expect(german.verdictAt('marginal', 'outlet')).toMatch(/ an der Steckdose$/);
    expect(german.verdictAt('underpowered', 'unstated')).toBe(german.verdicts.underpowered);
  });
});
