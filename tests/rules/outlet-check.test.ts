import { describe, expect, test } from 'vitest';
import type { CheckChoice, CheckStep } from '../../shared/protocol/outlet-check.ts';
import { choicesOf } from '../../shared/rules/outlet-check.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import {
  about,
  bare,
  bead,
  choose,
  circuit,
  first,
  fiveQuiet,
  full,
  quiet,
  start,
  through,
  weld,
} from './check-given.ts';

describe('the way through', () => {
  test('no load, idle, bead, bead with the cord, judgement', () => {
    expect(Object.entries(full).map(([step, check]) => [step, check.step])).toEqual(
      Object.keys(full).map((step) => [step, step]),
    );
    const done = through(full['second-bead'], choose('judge'));
    expect(done.step).toBe('judged');
    expect(done.result).toMatchObject({
      schema: 'stiffline.outlet-check/1',
      date: about.date,
      person: about.person,
      place: about.place,
      machine: 'bay welder',
      circuit: 'bay 2',
      cords: circuit.cords,
      noLoadVolts: 240,
      idleVolts: 240,
      second: 'with-cord',
      verdict: 'adequate',
      remedies: [],
      supply: { openVolts: 240, ohmsR: 0.1, ohmsX: 0.03 },
    });
    expect(done.result!.beads).toHaveLength(2);
    expect(done.result!.atFullLoad!.volts).toBeGreaterThan(230);
    expect(done.result!.cautions.join(' ')).toContain('not that a weld is sound');
  });

  /** Where each choice leads: [without the evidence, with it]; "·" is not taken. */
  const table: Record<
    CheckStep,
    Partial<Record<CheckChoice, [CheckStep | '·', CheckStep | '·']>>
  > = {
    'no-load': { 'go-on': ['·', 'idle'], again: ['no-load', 'no-load'] },
    idle: {
      'go-on': ['·', 'first-bead'],
      again: ['idle', 'idle'],
      back: ['no-load', 'no-load'],
    },
    'first-bead': {
      'with-cord': ['·', 'second-bead'],
      judge: ['·', 'judged'],
      again: ['first-bead', 'first-bead'],
      back: ['idle', 'idle'],
    },
    'second-bead': {
      judge: ['·', 'judged'],
      again: ['second-bead', 'second-bead'],
      back: ['first-bead', 'first-bead'],
    },
    judged: {},
    stopped: {},
  };
  const all: CheckChoice[] = [
    ...(['go-on', 'again', 'back', 'with-cord', 'full-setting', 'judge', 'stop'] as const),
  ];
  const cases = Object.keys(table).flatMap((step) =>
    all.flatMap((choice) =>
      [bare, full].map((from, evidenced) => ({
        step: step as CheckStep,
        choice,
        from: from[step as CheckStep],
        evidenced,
      })),
    ),
  );
  test.each(cases)('$step, $choice, evidence $evidenced', ({ step, choice, from, evidenced }) => {
    const to = through(from, choose(choice));
    const over = step === 'judged' || step === 'stopped';
    if (over) return expect(to).toBe(from);
    if (choice === 'stop') return expect(to.step).toBe('stopped');
    const right = table[step][choice]?.[evidenced as 0 | 1] ?? '·';
    if (right !== '·') {
      expect(to.step).toBe(right);
      if (choice === 'again') expect([to.run, to.bead]).toEqual([null, null]);
      return;
    }
    expect(to.step).toBe(step);
    expect(to.note).toBeTruthy();
    expect({ ...to, note: null, noteSaying: null, atS: 0 }).toEqual({
      ...from,
      note: null,
      noteSaying: null,
      atS: 0,
    });
  });

  test.each(Object.keys(bare) as CheckStep[])('%s: time, readings and arcs', (step) => {
    const over = step === 'judged' || step === 'stopped';
    for (const from of [bare[step], full[step]]) {
      expect(through(from, { kind: 'time', atS: 200 }).step).toBe(step);
      expect(through(from, quiet(200)).step).toBe(step);
      const early = step === 'no-load' || step === 'idle';
      expect(through(from, weld(bead(), false, 200)).step).toBe(early ? 'first-bead' : step);
      const late = through(from, { kind: 'time', atS: 4_000 });
      expect(late.step).toBe(over ? step : 'stopped');
    }
  });

  test('what is offered is what is taken, at every step', () => {
    for (const check of [...Object.values(bare), ...Object.values(full)])
      for (const choice of choicesOf(check)) {
        const note = through(check, choose(choice)).note;
        expect([choice, note]).toEqual([choice, choice === 'stop' ? note : null]);
      }
    expect(choicesOf(bare['no-load'])).toEqual(['again', 'stop']);
    expect(choicesOf(bare['first-bead'])).toEqual(['back', 'again', 'stop']);
    expect(through(bare['no-load'], choose('go-on')).note).toContain('see what is missing');
  });

  test('full setting is offered after a light bead, not after one that was at it', () => {
    const offered = (amps: number) => choicesOf(through(first, weld(bead(amps))));
    expect(offered(12)).toContain('full-setting');
    expect(offered(26)).not.toContain('full-setting');
    expect(choicesOf(through(first, weld(bead(12), true)))).toEqual(['back', 'again', 'stop']);
  });

  test('back from the second bead: the first one stands as it was', () => {
    const back = through(bare['second-bead'], choose('back'));
    expect([back.bead === bare['second-bead'].first, back.first, back.second]).toEqual([
      true,
      null,
      null,
    ]);
    expect(choicesOf(back)).toContain('judge');
  });

  test('after an early arc, back takes what was passed over', () => {
    const early = through(start(), weld());
    expect(early.step).toBe('first-bead');
    const again = through(early, choose('back'), choose('back'));
    expect([again.step, again.noLoad, again.bead]).toEqual(['no-load', null, null]);
    expect(through(again, ...fiveQuiet, choose('go-on', 60)).noLoad?.volts).toBeCloseTo(240);
  });

  test('events do not change the check they are given', () => {
    const before = structuredClone(full['first-bead']);
    through(full['first-bead'], weld(bead(12)), choose('judge'));
    expect(full['first-bead']).toEqual(before);
  });

  test('every step has one thing to do', () => {
    for (const check of [...Object.values(bare), ...Object.values(full)])
      expect(tellCheck(check).doNow.length).toBeGreaterThan(10);
  });
});
