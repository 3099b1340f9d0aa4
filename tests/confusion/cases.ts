import type { Finding, Judgement, Verdict } from '../../shared/protocol/judgement.ts';

/** A scenario, how long its record is, and whether its judgement says what it must. */
export interface Case {
  scenario: string;
  bay?: string;
  seconds: number;
  /** The rule that must speak, as the table names it. */
  rule: string;
  found(judgement: Judgement): boolean;
}

const says = (findings: readonly Finding[], rule: string, ...verdicts: Verdict[]): boolean =>
  findings.some((each) => each.rule === rule && verdicts.includes(each.verdict));

/** One of the rules fails it, whatever else is wrong. */
const fails = (scenario: string, seconds: number, ...rules: string[]): Case => ({
  scenario,
  seconds,
  rule: rules.join(' or '),
  found: ({ findings }) => rules.some((rule) => says(findings, rule, 'underpowered')),
});

/** When the scenarios of heat turn the knob; the arcs before are the coupon's own setting. */
const turnedS = 18;

/** Every arc after the knob was turned reads `word` than the coupon's band, and none before. */
const heat = (scenario: string, word: 'colder' | 'hotter'): Case => ({
  scenario,
  seconds: 36,
  rule: 'heat',
  found({ arcs }) {
    const told = arcs.flatMap(({ startS, endS, findings }) =>
      findings
        .filter(({ rule, verdict }) => rule === 'heat' && verdict !== 'unproven')
        .map(({ margin, says: words }) => ({ startS, endS, outside: margin! < 0, words })),
    );
    const before = told.filter(({ endS }) => endS < turnedS);
    const after = told.filter(({ startS }) => startS > turnedS);
    return (
      after.length > 0 &&
      !before.some(({ outside }) => outside) &&
      after.every(({ outside, words }) => outside && words.includes(word))
    );
  },
});

export const faults: readonly Case[] = [
  fails('long-thin-cord', 20, 'plate-voltage', 'full-load'),
  fails('thin-branch', 20, 'plate-voltage', 'full-load'),
  {
    scenario: 'loose-terminal',
    seconds: 20,
    rule: 'connection',
    // By name: not as other loads, though the volts jump with every swing of the contact.
    found: ({ findings }) => says(findings, 'connection', 'unproven', 'underpowered'),
  },
  // One sensor cannot tell it from a load elsewhere in the building: marginal is all it can say.
  {
    scenario: 'shared-circuit',
    seconds: 24,
    rule: 'other-load',
    found: ({ findings }) => says(findings, 'other-load', 'marginal'),
  },
  fails('208-under-240', 16, 'voltage-class'),
  {
    scenario: 'weak-generator',
    seconds: 20,
    rule: 'waveform and plate-voltage',
    found: ({ findings }) =>
      says(findings, 'waveform', 'marginal') && says(findings, 'plate-voltage', 'underpowered'),
  },
  fails('open-neutral', 24, 'phases'),
  fails('lost-phase', 20, 'phases'),
  fails('no-strike', 20, 'strike-voltage'),
  {
    scenario: 'light-bead',
    seconds: 20,
    rule: 'full-load never adequate',
    found: ({ verdict, arcs, findings }) =>
      [{ verdict, findings }, ...arcs].every(
        (each) => each.verdict !== 'adequate' && !says(each.findings, 'full-load', 'adequate'),
      ),
  },
  {
    scenario: 'overrun-duty',
    seconds: 640,
    rule: 'duty',
    found: ({ findings }) => says(findings, 'duty', 'marginal', 'underpowered'),
  },
  heat('cold-set-up', 'colder'),
  heat('hot-set-up', 'hotter'),
];

/** Adequate, and no finding that says anything else: advice on a good shop is an alarm too. */
const quiet = (scenario: string, bay?: string): Case => ({
  scenario,
  ...(bay === undefined ? {} : { bay }),
  seconds: 20,
  rule: 'none',
  found: ({ verdict, findings }) =>
    verdict === 'adequate' && !findings.some((each) => isAlarm(each.verdict)),
});

export const isAlarm = (verdict: Verdict): boolean =>
  verdict === 'marginal' || verdict === 'underpowered';

export const healthy: readonly Case[] = [
  quiet('healthy-steel'),
  quiet('healthy-aluminium'),
  quiet('healthy-braze'),
  quiet('healthy-transformer'),
  quiet('healthy-bench'),
  quiet('harbour-lane', 'bay-2'),
  quiet('harbour-lane', 'bench'),
];

export const nameOf = ({ scenario, bay }: Pick<Case, 'scenario' | 'bay'>): string =>
  bay === undefined ? scenario : `${scenario}, ${bay}`;
