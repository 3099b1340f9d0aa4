import { describe, expect, test } from 'vitest';
import type { Machine } from '../../shared/protocol/planning.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { readMachines } from '../../shared/protocol/read-planning.ts';
import { readPlate } from '../../shared/protocol/read-plate.ts';
import { plan } from '../../shared/rules/planning.ts';
import { voltageClass } from '../../shared/rules/voltage-class.ts';
import { setting } from './given.ts';
import { circuit, machine, need } from './planning-given.ts';

const guns: NonNullable<Plate['guns']> = [
  { name: 'steel', processes: ['mig-steel'], wireInches: [0.03], pulse: false },
  { name: 'spool', processes: ['mig-aluminium'], wireInches: [0.047], pulse: true },
];
const { processes: _, ...bare } = machine({ wireInches: [0.03, 0.047] });
const two: Machine = { ...bare, name: 'two guns', guns };

describe('a machine with several guns', () => {
  test('a need is met by the gun that can, and the plan names it', () => {
    const made = plan([two], [circuit()], [need({ pulse: true })]);
    expect(made.covers).toEqual([
      {
        need: 'rails',
        machines: ['two guns'],
        marginal: [],
        guns: [{ machine: 'two guns', gun: 'spool' }],
      },
    ]);
    expect(plan([machine()], [circuit()], [need()]).covers[0]).not.toHaveProperty('guns');
  });

  test('wire of one gun and process of another make no gun', () => {
    const mixed = need({ process: 'mig-steel', pulse: false, wireInches: 0.047 });
    const [left] = plan([two], [circuit()], [mixed]).uncovered;
    expect(left!.why[0]!.says).toMatch(
      /^With its “steel” gun: The plate names no wire of 0.047 in/,
    );
    const brazing = plan([two], [circuit()], [need({ process: 'mig-braze' })]).uncovered[0]!;
    expect(brazing.why[0]!.says).toContain('gun: It is not made for MIG brazing.');
  });

  test('what a gun leaves out is as the plate says of the whole machine', () => {
    const plain: Machine = { ...machine(), guns: [{ name: 'only', wireInches: [0.047] }] };
    expect(plan([plain], [circuit()], [need()]).covers[0]!.machines).toEqual(['pulse 220']);
  });

  test('work at an outlet is judged by the gun that suits it', () => {
    const ask = (wireInches: number, pulse = true) =>
      voltageClass
        .ask({
          ...setting({ plate: two, rated: two.supply[0]! }),
          work: { process: 'mig-aluminium', wireInches, pulse },
          openVolts: 240,
        })
        .at(-1)!;
    expect(ask(0.047)).toMatchObject({ verdict: 'adequate' });
    expect(ask(0.047).says).toContain('“spool”');
    expect(ask(0.03)).toMatchObject({ verdict: 'underpowered' });
  });
});

describe('guns as they are read', () => {
  const plate = { name: 'p', phases: 1, supply: [{ U1: 240, I1max: 30 }] };
  const read = (change: object) => readPlate({ ...plate, ...change });

  test('guns and processes are optional keys of a plate', () => {
    const value = { ...plate, processes: ['mig-steel', 'mig-aluminium'], guns };
    expect(readPlate(value)).toEqual({ ok: true, value, questions: [] });
  });

  test.each([
    ['an unknown key', { guns: [{ name: 'a', feed: 1 }] }, 'guns[0].feed is not a known key'],
    ['no name', { guns: [{}] }, 'guns[0].name is missing'],
    ['one name twice', { guns: [{ name: 'a' }, { name: 'a' }] }, 'guns[1].name is "a"'],
    ['an unknown process', { guns: [{ name: 'a', processes: ['tig'] }] }, 'guns[0].processes[0]'],
    ['an impossible wire', { guns: [{ name: 'a', wireInches: [9] }] }, 'guns[0].wireInches[0]'],
    ['none at all', { guns: [] }, 'guns '],
  ])('%s is refused by path', (_, change, says) => {
    const refused = read(change);
    const faults = refused.ok ? [] : refused.faults.map((each) => `${each.path} ${each.says}`);
    expect(faults.join()).toContain(says);
  });

  test.each([
    ['pulse', { pulse: false, guns: [{ name: 'a', pulse: true }] }, 'it pulses'],
    ['wire', { wireInches: [0.03], guns: [{ name: 'a', wireInches: [0.04] }] }, '0.040 in'],
    [
      'process',
      { processes: ['mig-steel'], guns: [{ name: 'a', processes: ['mig-braze'] }] },
      'mig-braze',
    ],
  ])('a gun that does not fit the plate in %s is asked about', (_, change, says) => {
    const asked = read(change);
    expect(asked.ok && asked.questions.join()).toContain(says);
  });

  test('a machine to plan with must say its processes, itself or by every gun', () => {
    const entry = { ...plate, owned: true };
    expect(readMachines([{ ...entry, guns }]).ok).toBe(true);
    const silent = readMachines([{ ...entry, guns: [...guns, { name: 'third' }] }]);
    expect(silent.ok ? '' : silent.faults[0].path).toBe('[0].processes');
    expect(readMachines([entry]).ok).toBe(false);
  });
});
