import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Arc, Finding } from '../../shared/protocol/judgement.ts';
import type { CheckAbout, CheckChoice, CheckStep } from '../../shared/protocol/outlet-check.ts';
import type { Setting } from '../../shared/rules/facts.ts';
import { judgeArc } from '../../shared/rules/judge.ts';
import { beginCheck, type CheckEvent, nextCheck } from '../../shared/rules/outlet-check.ts';
import type { OutletCheck } from '../../shared/rules/outlet-check-state.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import { arc as arcEvidence, evidence, setting, supply } from './given.ts';

export const about: CheckAbout = {
  date: '2026-03-02T08:00:00Z',
  person: 'first shift',
  place: 'bay 2, by the lift',
  cordFrom: 'second-bead',
};
export const circuit: Circuit = {
  name: 'bay 2',
  volts: 240,
  phases: 1,
  cords: [{ awg: 10, feet: 25 }],
};
export const corded = setting({ circuit });

/** A bead as the watch judges it. */
export function bead(
  amps = 26,
  seconds = 3,
  here: Setting = corded,
  seen = supply(),
  others?: Finding,
) {
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

export const quiet = (atS: number, volts = 240, amps = 0.1): CheckEvent => ({
  kind: 'reading',
  atS,
  spanS: 1,
  volts: [volts],
  amps: [amps],
});
export const choose = (choice: CheckChoice, atS = 100): CheckEvent => ({
  kind: 'choice',
  atS,
  choice,
});
/** Each struck later than the one before: the same one told twice is no second bead. */
let struckS = 0;
export const weld = (given = bead(), burning = false, atS = 50): CheckEvent => {
  struckS += 10;
  const { arc, supply } = given;
  const later = { ...arc, startS: arc.startS + struckS, endS: arc.endS + struckS };
  return { kind: 'arc', atS, arc: later, supply, burning };
};
export const through = (check: OutletCheck, ...events: CheckEvent[]) =>
  events.reduce(nextCheck, check);
export const start = (here = corded, of = about) => beginCheck(of, here);
export const fiveQuiet = Array.from({ length: 5 }, (_, second) => quiet(second));

/** Each step, with all that it wants and with nothing of it. */
export const idle = through(start(), ...fiveQuiet, choose('go-on', 6));
export const first = through(idle, ...fiveQuiet, choose('go-on', 12));
export const bare: Record<CheckStep, OutletCheck> = {
  'no-load': through(start(), { kind: 'time', atS: 0 }),
  idle,
  'first-bead': first,
  'second-bead': through(first, weld(), choose('with-cord')),
  judged: through(first, weld(), choose('judge')),
  stopped: through(start(), choose('stop')),
};
export const full: Record<CheckStep, OutletCheck> = {
  ...bare,
  'no-load': through(bare['no-load'], ...fiveQuiet),
  idle: through(bare.idle, ...fiveQuiet),
  'first-bead': through(bare['first-bead'], weld()),
  'second-bead': through(bare['second-bead'], weld()),
};

/** What is not enough yet. */
export const wants = (check: OutletCheck) =>
  tellCheck(check)
    .wants.filter(({ enough }) => !enough)
    .map(({ id }) => id);
