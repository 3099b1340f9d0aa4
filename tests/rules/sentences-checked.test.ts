import { expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Saying } from '../../shared/protocol/judgement.ts';
import type { CheckChoice, CheckResult } from '../../shared/protocol/outlet-check.ts';
import { couponStale, type Hung } from '../../shared/rules/coupon-stale.ts';
import type { Setting, SupplyEvidence } from '../../shared/rules/facts.ts';
import { judgeArc } from '../../shared/rules/judge.ts';
import { beginCheck, type CheckEvent, resumeCheck } from '../../shared/rules/outlet-check.ts';
import { stalenessOf } from '../../shared/rules/outlet-check-stale.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import { checking } from '../../shared/words/en/checking.ts';
import { toDo } from '../../shared/words/en/to-do.ts';
import { fiveQuiet, quiet, through } from './check-given.ts';
import { evidence, arc as given, otherStep, setting, supply } from './given.ts';
import { expectBothLanguages, toldIn, unsaid } from './sayings.ts';

const circuit: Circuit = {
  ...{ name: 'Halle 2', volts: 240, phases: 1, cords: [{ awg: 10, feet: 25.5 }] },
};
const corded = setting({ circuit });
const about = { date: '2026-03-02T08:00:00Z', person: 'Ida', place: 'Tor' };
const begun = (here = corded, cordFrom: 'first-bead' | 'second-bead' = 'second-bead') =>
  beginCheck({ ...about, cordFrom }, here);
const choose = (choice: CheckChoice, atS = 90): CheckEvent => ({ kind: 'choice', atS, choice });

interface Bead {
  amps?: number;
  longS?: number;
  lost?: number;
  here?: Setting;
  seen?: SupplyEvidence;
  burning?: boolean;
  disturbed?: boolean;
}
let struckS = 0;
function weld(of: Bead = {}): CheckEvent {
  const { amps = 26, longS = 3, lost = 0, here = corded, seen = supply(), burning = false } = of;
  struckS += 10;
  const times = { startS: struckS, endS: struckS + longS };
  const burned = { ...given({ maxAmps200ms: amps }), ...times };
  const worst = otherStep({ atS: struckS + 1, volts: -9 });
  const others = of.disturbed ? { others: { count: 2, searched: true, worst } } : {};
  const { verdict, findings } = judgeArc(here, burned, evidence({ supply: seen, ...others }));
  const { channels } = burned;
  const arc = { ...times, durationS: longS, channels: [...channels], lostFraction: lost };
  return { kind: 'arc', atS: 50, arc: { ...arc, verdict, findings }, supply: seen, burning };
}

const zipped = (all: readonly string[], sayings: readonly Saying[]) =>
  all.map((says, at) => ({ says, saying: sayings[at] }));

test('every sentence of a check has a name, and German says all of it', () => {
  const refused: SupplyEvidence = { pairs: [null], behaviour: 'unknown' };
  const idle = through(begun(), ...fiveQuiet, choose('go-on'));
  const first = through(idle, ...fiveQuiet, choose('go-on'));
  const second = through(first, weld(), choose('with-cord'));
  const plain = setting({ plate: null, rated: null });
  const atEnd = setting({ circuit: { ...circuit, sensorAt: 'machine' } });
  const bare = setting({ circuit: { ...circuit, cords: [] } });
  const twice = setting({ circuit: { ...circuit, volts: 480 } });
  const checks = [
    begun(),
    begun(twice),
    through(begun(), ...fiveQuiet),
    through(begun(), quiet(0, 240, 5.5)),
    through(begun(), quiet(0, 240, 5.5), quiet(1, 2, 0)),
    through(begun(), ...fiveQuiet, quiet(6, 234)),
    through(begun(), quiet(0, 205)),
    ...[idle, through(idle, ...fiveQuiet), first, second],
    through(idle, ...[0, 1, 2, 3, 4].map((atS) => quiet(atS, 240, 0.4))),
    ...[begun(atEnd), through(begun(atEnd), quiet(0, 240, 3))],
    through(first, choose('with-cord')),
    through(first, choose('go-on')),
    through(first, choose('stop')),
    through(first, weld()),
    through(begun(bare), weld({ amps: 12 })),
    through(first, weld({ burning: true })),
    through(begun(plain), weld({ here: plain })),
    through(begun(), weld({ amps: 5, longS: 1.5 })),
    through(idle, weld({ lost: 0.1, seen: refused })),
    through(first, weld({ longS: 1, burning: true, seen: refused })),
    through(first, weld({ seen: refused, disturbed: true })),
    through(second, weld()),
    through(first, weld({ amps: 12 }), choose('full-setting')),
    through(first, weld(), choose('judge')),
    through(first, { kind: 'time', atS: 9_999 }),
    ...[idle, first, through(first, weld({ burning: true }))].map(resumeCheck),
  ];
  const tellings = checks.map(tellCheck);
  const untried = through(begun(atEnd), weld(), choose('judge'));
  const nameless = through(begun(plain), weld({ here: plain }), choose('judge'));
  const told = toldIn([
    tellings.map(({ wants, warnings, warningSayings, note, noteSaying }) => [
      ...[wants, zipped(warnings, warningSayings)],
      note === null ? [] : { says: note, saying: noteSaying },
    ]),
    untried.result?.findings,
    staleTexts(through(first, weld(), choose('judge')).result!),
  ]);
  expectBothLanguages(told, /Halle \d/g);

  // Said by the server, not by the rules.
  const elsewhere = ['stopped', 'stoppedByChange', 'stoppedByAnother'];
  expect(unsaid(checking, told).filter((name) => !elsewhere.includes(name))).toEqual([]);

  // What is to be done has no figures: the page finds it by its English.
  const asked = [
    ...tellings.flatMap(({ doNow, wants }) => [doNow, ...wants.map((each) => each.doNow)]),
    ...[untried, nameless].flatMap(({ result }) => result?.toProve ?? []),
  ];
  const known = Object.values(toDo).map((sentence) => sentence());
  expect([...new Set(asked)].filter((says) => says !== null).sort()).toEqual(known.sort());
});

/** Every reason why a result or a coupon holds no longer. */
function staleTexts(result: CheckResult) {
  const now = { date: '2026-06-01T08:00:00Z', place: 'Hof', machine: null, circuit: null };
  const stale = [
    stalenessOf(result, { ...now, cords: [] }),
    stalenessOf(result, { ...result, date: 'soon', cords: [{ mm2: 2.5, metres: 10.5 }] }),
    stalenessOf(result, { ...result, date: '2026-01-01T00:00:00Z' }),
  ];
  const hung: Hung = { plate: corded.plate, circuit, sensorAt: 'machine' };
  const other: Hung = { plate: null, circuit: null, sensorAt: 'outlet' };
  const all = stale.map(({ why, sayings }) => zipped(why, sayings));
  return [all, couponStale(hung, other), couponStale(other, hung)];
}
