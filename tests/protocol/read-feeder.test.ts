import { describe, expect, test } from 'vitest';
import { readFeeders, readKeptFeeder } from '../../shared/protocol/read-feeder.ts';
import type { Read } from '../../shared/protocol/schema-faults.ts';

const circuits = [
  { name: 'bay 1', volts: 120 },
  { name: 'bay 2', volts: 240, breakerAmps: 50 },
];
const feeder = (change: object = {}) => ({
  name: 'bays',
  volts: 240,
  phases: 1,
  breakerAmps: 100,
  conductor: { awg: '1/0', metal: 'aluminium', feet: 90 },
  circuits: ['bay 1', 'bay 2'],
  ...change,
});
const faults = (read: Read<unknown>) =>
  read.ok ? [] : read.faults.map(({ path, says }) => `${path} ${says}`);

describe('a feeder', () => {
  test.each([
    ['US', {}],
    ['thousand circular mils', { conductor: { kcmil: 250, feet: 40 } }],
    ['metric', { conductor: { mm2: 35, metres: 30 } }],
    ['bare', { conductor: undefined, breakerAmps: undefined, phases: undefined, atOnce: 2 }],
  ])('%s is read, and nothing is asked', (_, change) => {
    const value = JSON.parse(JSON.stringify([feeder(change)])) as unknown;
    expect(readFeeders(value, circuits)).toEqual({ ok: true, value, questions: [] });
  });

  test.each([
    ['an unknown key', { colour: 'red' }, '[0].colour is not a known key'],
    ['no circuits', { circuits: [] }, '[0].circuits'],
    ['a circuit that is not there', { circuits: ['bay 1', 'bay 9'] }, '[0].circuits[1] is "bay 9"'],
    ['one named twice', { circuits: ['bay 1', 'bay 1'] }, '[0].circuits[1] is named twice'],
    ['impossible volts', { volts: 0 }, '[0].volts'],
    ['impossible phases', { phases: 2 }, '[0].phases must be one of 1, 3'],
    ['an impossible breaker', { breakerAmps: -1 }, '[0].breakerAmps'],
    ['two sizes', { conductor: { awg: 2, mm2: 35 } }, '[0].conductor has two sizes'],
    ['no size', { conductor: { feet: 10 } }, '[0].conductor has no size'],
    ['two lengths', { conductor: { awg: 2, feet: 9, metres: 3 } }, '[0].conductor has feet and'],
    ['too small for kcmil', { conductor: { kcmil: 100 } }, '[0].conductor.kcmil'],
    ['a wire of the conductor unknown', { conductor: { gauge: 3 } }, '[0].conductor.gauge'],
    ['more at once than ever', { atOnce: 1.5 }, '[0].atOnce'],
    ['a name that hides', { name: 'a\u0007' }, '[0].name'],
  ])('%s is refused by path', (_, change, says) => {
    expect(faults(readFeeders([feeder(change)], circuits)).join('; ')).toContain(says);
  });

  test('a circuit hangs on one feeder; two of one name are refused', () => {
    const both = [feeder(), feeder({ name: 'yard', circuits: ['bay 2'] })];
    expect(faults(readFeeders(both, circuits))).toEqual([
      '[1].circuits[0] is "bay 2", which hangs on "bays" already',
    ]);
    expect(faults(readFeeders([feeder(), feeder()], circuits))[0]).toContain('[1].name');
    expect(faults(readFeeders({}, circuits))).toEqual([' must be a list']);
    expect(readFeeders([], circuits).ok).toBe(true);
  });

  test.each([
    ['a transformer between', { volts: 480 }, 'transformer'],
    ['a smaller breaker than its circuit', { breakerAmps: 30 }, '50 A breaker of bay 2'],
    ['more at once than circuits', { atOnce: 3 }, '3 machines at once'],
  ])('%s is asked about', (_, change, says) => {
    const read = readFeeders([feeder(change)], circuits);
    expect(read.ok && read.questions.join(' ')).toContain(says);
  });

  test('three phases off one are asked about', () => {
    const read = readFeeders([feeder({ circuits: ['c'] })], [{ name: 'c', volts: 240, phases: 3 }]);
    expect(read.ok && read.questions[0]).toContain('three phases');
  });

  test('as kept: circuits by number', () => {
    expect(readKeptFeeder(feeder({ circuits: [1, 2] })).ok).toBe(true);
    expect(faults(readKeptFeeder(feeder()))[0]).toContain('circuits[0]');
    expect(faults(readKeptFeeder(feeder({ circuits: [2, 2] })))[0]).toContain('named twice');
  });
});
