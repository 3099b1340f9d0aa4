import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Arc, Finding } from '../../shared/protocol/judgement.ts';
import type {
  CheckAbout,
  CheckChoice,
  CheckResult,
  CheckStep,
} from '../../shared/protocol/outlet-check.ts';
import type { Setting } from '../../shared/rules/facts.ts';
import { judgeArc } from '../../shared/rules/judge.ts';
import {
  beginCheck,
  type CheckEvent,
  choicesOf,
  isEnough,
  nextCheck,
} from '../../shared/rules/outlet-check.ts';
import { checkRecording } from '../../shared/rules/outlet-check-recording.ts';
import { stalenessOf } from '../../shared/rules/outlet-check-stale.ts';
import type { OutletCheck } from '../../shared/rules/outlet-check-state.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import { arc as arcEvidence, evidence, setting, supply } from './given.ts';

const about: CheckAbout = {
  date: '2026-03-02T08:00:00Z',
  person: 'first shift',
  place: 'bay 2, by the lift',
  cordFrom: 'second-bead',
};
const circuit: Circuit = { name: 'bay 2', volts: 240, phases: 1, cords: [{ awg: 10, feet: 25 }] };
const corded = setting({ circuit });

/** A bead as the watch judges it. */
function bead(amps = 26, seconds = 3, here: Setting = corded, seen = supply(), others?: Finding) {
  const burned = { ...arcEvidence({ maxAmps200ms: amps }), startS: 1, endS: 1 + seconds };
  const { verdict, findings } = judgeArc(here, burned, evidence({ supply: seen }));
  const arc: Arc = {
    startS: 1,
    endS: 1 + seconds,
    durationS: seconds,
    channels: [...burned.channels],
    lostFraction: 0,
    verdict,
    findings: others ? [...findings.filter(({ rule }) => rule !== 'other-load'), others] : findings,
  };
  return { arc, supply: seen };
}

const quiet = (atS: number, volts = 240, amps = 0.1): CheckEvent => ({
  kind: 'reading',
  atS,
  spanS: 1,
  volts: [volts],
  amps: [amps],
});
const choose = (choice: CheckChoice, atS = 100): CheckEvent => ({ kind: 'choice', atS, choice });
/** Each struck later than the one before: the same one told twice is no second bead. */
let struckS = 0;
const weld = (given = bead(), burning = false, atS = 50): CheckEvent => {
  struckS += 10;
  const { arc, supply } = given;
  const later = { ...arc, startS: arc.startS + struckS, endS: arc.endS + struckS };
  return { kind: 'arc', atS, arc: later, supply, burning };
};
const through = (check: OutletCheck, ...events: CheckEvent[]) => events.reduce(nextCheck, check);
const start = (here = corded, of = about) => beginCheck(of, here);
const fiveQuiet = Array.from({ length: 5 }, (_, second) => quiet(second));

/** Each step, with all that it wants and with nothing of it. */
const idle = through(start(), ...fiveQuiet, choose('go-on', 6));
const first = through(idle, ...fiveQuiet, choose('go-on', 12));
const bare: Record<CheckStep, OutletCheck> = {
  'no-load': through(start(), { kind: 'time', atS: 0 }),
  idle,
  'first-bead': first,
  'second-bead': through(first, weld(), choose('with-cord')),
  judged: through(first, weld(), choose('judge')),
  stopped: through(start(), choose('stop')),
};
const full: Record<CheckStep, OutletCheck> = {
  ...bare,
  'no-load': through(bare['no-load'], ...fiveQuiet),
  idle: through(bare.idle, ...fiveQuiet),
  'first-bead': through(bare['first-bead'], weld()),
  'second-bead': through(bare['second-bead'], weld()),
};

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
});

describe('what is enough, and what is missing', () => {
  const wants = (check: OutletCheck) =>
    tellCheck(check)
      .wants.filter(({ enough }) => !enough)
      .map(({ id }) => id);

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

  test('before a bead each want says what it will have to be', () => {
    const told = tellCheck(first).wants;
    expect(new Set(told.map(({ says }) => says)).size).toBe(told.length);
    expect(told.find(({ id }) => id === 'heavy')!.says).toContain('7.5 A drawn or more');
    expect(told.filter(({ doNow }) => doNow !== null)).toHaveLength(1);
  });

  test('what is enough while it burns may end; a lighter one after it proves less', () => {
    const burning = through(first, weld(bead(26), true));
    expect(tellCheck(burning).doNow).toBe('Enough is in: end the bead when you like.');
    const light = through(full['first-bead'], weld(bead(12)));
    expect(light.bead).toBe(full['first-bead'].bead);
    const alike = through(full['first-bead'], weld(bead(25)));
    expect(alike.bead).not.toBe(full['first-bead'].bead);
  });

  test('short, light, lost, not estimated: each says what to do', () => {
    const of = (...given: Parameters<typeof bead>) => through(first, weld(bead(...given)));
    expect(wants(of(26, 1.5))).toEqual(['long']);
    expect(tellCheck(of(26, 1.5)).doNow).toBe('Weld a longer bead.');
    expect(wants(of(5))).toEqual(['heavy']);
    expect(tellCheck(of(5)).doNow).toContain('heavier');
    const lost = bead();
    lost.arc.lostFraction = 0.1;
    expect(wants(through(first, weld(lost)))).toEqual(['whole']);
    const refused = { pairs: [null], behaviour: 'unknown' as const };
    expect(wants(of(26, 3, corded, refused))).toEqual(['estimated']);
  });

  test('while it burns: keep welding', () => {
    const burning = through(first, weld(bead(26, 1), true));
    expect(tellCheck(burning)).toMatchObject({ doNow: 'Keep welding.', enough: false });
    expect(choicesOf(burning)).not.toContain('judge');
    expect(tellCheck(through(burning, weld(bead(26, 2.5), true))).enough).toBe(true);
  });

  test('a tack is passed over, a light bead after a good one takes nothing away', () => {
    expect(through(first, weld(bead(26, 0.2))).bead).toBeNull();
    const kept = through(full['first-bead'], weld(bead(5)));
    expect(isEnough(kept)).toBe(true);
    expect(kept.bead).toEqual(full['first-bead'].bead);
  });

  test('another load is advice: it can be unplugged, or judged with', () => {
    const other: Finding = {
      ...bead().arc.findings[0]!,
      rule: 'other-load',
      verdict: 'marginal',
      says: 'Something else runs on this supply.',
      required: false,
    };
    const check = through(first, weld(bead(26, 3, corded, supply(), other)));
    expect(wants(check)).toEqual(['quiet']);
    expect(isEnough(check)).toBe(true);
  });

  test('at full setting the second bead must be a heavy one', () => {
    const second = through(first, weld(bead(12)), choose('full-setting'));
    expect(wants(through(second, weld(bead(20))))).toEqual(['heavy']);
    expect(isEnough(through(second, weld(bead(25))))).toBe(true);
  });

  test('the wrong class of supply is told before any load', () => {
    const low = through(start(setting()), ...fiveQuiet.map((_, atS) => quiet(atS, 208)));
    expect(tellCheck(low).warnings).toEqual([
      'This is a 208 V supply under a 240 V plate: 13.3 % under.',
    ]);
    expect(tellCheck(full['no-load']).warnings).toEqual([]);
  });

  test('every step has one thing to do', () => {
    for (const check of [...Object.values(bare), ...Object.values(full)])
      expect(tellCheck(check).doNow.length).toBeGreaterThan(10);
  });
});

describe('judged', () => {
  const judged = (check: OutletCheck): CheckResult => through(check, choose('judge')).result!;

  test('a weak outlet: underpowered, with what would make it right', () => {
    const weak = supply({ ohmsR: 0.9 });
    const result = judged(through(first, weld(bead(26, 3, corded, weak))));
    expect(result.verdict).toBe('underpowered');
    expect(result.remedies.length).toBeGreaterThan(0);
    expect(tellCheck(through(first, weld(bead(26, 3, corded, weak)), choose('judge'))).doNow).toBe(
      result.remedies[0]!.says,
    );
  });

  test('too light a bead never makes it adequate', () => {
    const light = supply({ largestStepAmps: 5 });
    const check = through(first, weld(bead(5, 3, corded, light)));
    expect(through(check, choose('full-setting'))).toMatchObject({ step: 'first-bead' });
    expect(judged(check)).toMatchObject({
      verdict: 'unproven',
      toProve: ['Set the machine heavier and weld again.'],
    });
  });

  test('the worst of two beads stands', () => {
    const low = bead();
    low.arc.findings = low.arc.findings.map((finding) =>
      finding.rule === 'plate-voltage' ? { ...finding, verdict: 'underpowered' } : finding,
    );
    const check = through(first, weld(low), choose('with-cord'), weld());
    expect(judged(check).verdict).toBe('underpowered');
  });

  test('the first bead told once more is no second one', () => {
    const told = weld();
    const second = through(through(first, told), choose('with-cord'));
    expect(second.step).toBe('second-bead');
    expect(through(second, told).bead).toBeNull();
  });

  test('a sensor at the machine has to see the cord', () => {
    const here = setting({ circuit: { ...circuit, sensorAt: 'machine' } });
    const at = { ...first, setting: here };
    const without = through(at, weld(bead(26, 3, here)));
    expect(judged(without)).toMatchObject({ verdict: 'unproven', sensorAt: 'machine' });
    const withIt = through(without, choose('with-cord'), weld(bead(26, 3, here)));
    expect(judged(withIt).verdict).toBe('adequate');
    const all = { ...without, about: { ...about, cordFrom: 'first-bead' as const } };
    expect(choicesOf(all)).not.toContain('with-cord');
    expect(judged(all).verdict).toBe('adequate');
  });

  test('an arc before its time closes the steps before it, and says what was not taken', () => {
    const early = through(start(), weld());
    expect(early.step).toBe('first-bead');
    expect(early.note).toContain('nothing plugged in and with the machine idle');
    expect(judged(early)).toMatchObject({ noLoadVolts: null, idleVolts: 240 });
    expect(through(full.idle, weld()).note).toBeNull();
  });
});

describe('from a recording', () => {
  test('its arcs are the beads, however far apart', () => {
    const late = bead(4);
    const arcs = [
      bead(26, 0.2),
      bead(),
      { ...late, arc: { ...late.arc, startS: 9_000, endS: 9_003 } },
    ];
    const check = checkRecording(about, corded, arcs);
    expect(check.step).toBe('judged');
    expect(check.result).toMatchObject({ verdict: 'adequate', beads: [{ amps: 26 }] });
  });

  test('full load is foretold once: the figure and the finding speak of the same supply', () => {
    const { result } = checkRecording(about, corded, [
      bead(26, 3, corded, supply({ lagRadians: 0.1 })),
    ]);
    const finding = result!.findings.find(({ rule }) => rule === 'full-load')!;
    expect(finding.measured).toBeCloseTo(result!.atFullLoad!.volts, 6);
  });

  test('without arcs it stands at its beginning', () => {
    expect(checkRecording(about, corded, []).step).toBe('no-load');
  });
});

describe('stale', () => {
  const result = through(full['first-bead'], choose('judge')).result!;
  const now = {
    date: '2026-03-20T08:00:00Z',
    place: about.place,
    machine: 'bay welder',
    circuit: 'bay 2',
    cords: circuit.cords!,
  };

  test('the same thing within a month is not', () => {
    expect(stalenessOf(result, now)).toEqual({ stale: false, why: [], sayings: [] });
    const metric = [{ awg: 10, metres: 25 * 0.3048 }];
    expect(stalenessOf(result, { ...now, cords: metric }).stale).toBe(false);
  });

  test.each([
    ['another cord', { cords: [{ awg: 10, feet: 50 }] }, '50 ft of 10 AWG'],
    ['no cord', { cords: [] }, 'no cord'],
    ['another place', { place: 'bay 3' }, 'bay 3'],
    ['another machine', { machine: 'other' }, 'other'],
    ['another outlet', { circuit: 'bay 3' }, 'bay 3'],
    ['a month and a day', { date: '2026-04-02T08:00:00Z' }, 'common practice'],
    ['a clock that runs back', { date: '2026-03-01T08:00:00Z' }, 'clocks'],
    ['no date', { date: 'soon' }, 'cannot be read'],
  ])('%s', (_, change, says) => {
    const { stale, why } = stalenessOf(result, { ...now, ...change });
    expect(stale).toBe(true);
    expect(why).toHaveLength(1);
    expect(why[0]).toContain(says);
  });

  test('to the minute: thirty days stand, a minute more does not', () => {
    const at = (date: string) => stalenessOf(result, { ...now, date }).stale;
    expect(at('2026-04-01T08:00:00Z')).toBe(false);
    expect(at('2026-04-01T08:01:00Z')).toBe(true);
  });
});
