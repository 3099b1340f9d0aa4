import { describe, expect, test } from 'vitest';
import { isEnough } from '../../shared/rules/outlet-check.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import { circuit, fiveQuiet, full, idle, quiet, start, through, wants } from './check-given.ts';
import { setting } from './given.ts';

describe('before a bead: what is enough, and what is missing', () => {
  test('an empty outlet: alive, nothing drawn, five seconds steady', () => {
    expect(wants(start())).toEqual(['alive', 'nothing-draws', 'steady']);
    expect(tellCheck(through(start(), { kind: 'time', atS: 0 })).wants[0]!.doNow).toBe(
      'Wait for the first reading.',
    );
    expect(wants(through(start(), quiet(0)))).toEqual(['steady']);
    expect(wants(full['no-load'])).toEqual([]);
    const plugged = through(start(), ...fiveQuiet.map((_, atS) => quiet(atS, 240, 3)));
    expect(wants(plugged)).toEqual(['nothing-draws']);
    expect(tellCheck(plugged).doNow).toBe('Unplug whatever is in this outlet.');
    const dead = through(start(), ...fiveQuiet.map((_, atS) => quiet(atS, 2)));
    expect(wants(dead)).toEqual(['alive']);
    expect(tellCheck(dead).doNow).toContain('breaker');
  });

  test('a load that switches begins the wait anew, and is told', () => {
    const moved = through(full['no-load'], quiet(6, 234));
    const told = tellCheck(moved);
    expect(told.enough).toBe(false);
    expect(told.doNow).toContain('compressor');
    expect(told.wants.find(({ id }) => id === 'steady')!.says).toContain('moved by 6.0 V');
    expect(told.doNow).toContain('weld the bead now');
    expect(isEnough(through(moved, ...[7, 8, 9, 10].map((atS) => quiet(atS, 234))))).toBe(true);
  });

  test('seconds in which nothing was heard are no steady ones', () => {
    const four = through(start(), ...fiveQuiet.slice(0, 4));
    expect(isEnough(through(four, quiet(4)))).toBe(true);
    const silent = through(four, quiet(9));
    expect([isEnough(silent), silent.run?.forS]).toEqual([false, 1]);
  });

  test('a machine that draws nothing is asked about; the check may go on', () => {
    const still = through(idle, ...fiveQuiet.map((_, atS) => quiet(10 + atS, 240, 0.1)));
    expect(wants(still)).toEqual(['machine-on']);
    expect([isEnough(still), tellCheck(still).doNow]).toEqual([
      true,
      'No current is seen yet. Is the machine on? Then go on.',
    ]);
    const on = through(idle, ...fiveQuiet.map((_, atS) => quiet(10 + atS, 240, 0.3)));
    expect(wants(on)).toEqual([]);
  });

  test('a sensor at the cord’s end stays when the machine is unplugged', () => {
    const here = setting({ circuit: { ...circuit, sensorAt: 'machine' } });
    const plugged = through(start(here), ...fiveQuiet.map((_, atS) => quiet(atS, 240, 3)));
    expect(tellCheck(plugged).doNow).toBe(
      'Unplug the machine; the cord and the sensor at its end stay.',
    );
    expect(tellCheck(start(here)).doNow).toContain('at the end of the cord');
  });

  test('the wrong class of supply is told before any load', () => {
    const low = through(start(setting()), ...fiveQuiet.map((_, atS) => quiet(atS, 208)));
    expect(tellCheck(low).warnings).toEqual([
      'This is a 208 V supply under a 240 V plate: 13.3 % under.',
    ]);
    expect(tellCheck(full['no-load']).warnings).toEqual([]);
  });
});
