import type { Finding } from '../protocol/judgement.ts';
import type { Setting } from './facts.ts';

const always = [
  'Adequate says that the electricity was there, not that a weld is sound: test a coupon.',
  "The machine's manual and the vehicle maker's procedure rule.",
];
const wiring =
  'Wiring, breakers and receptacles are for a licensed electrician and the local code.';
const heat =
  'A warm plug, a discoloured receptacle or a buzz: stop, and have an electrician look at it.';
const neutral =
  'One leg up and the other down may be a failing neutral: stop, switch off, call an electrician.';
const cord = 'Use the shortest and heaviest cord there is, and uncoil it fully.';

/** What must be said with a judgement, the urgent first. */
export function cautionsFor(setting: Setting, findings: readonly Finding[]): string[] {
  const said = (rule: string) =>
    findings.filter((finding) => finding.rule === rule).map((finding) => finding.verdict);
  const bad = (rule: string) => said(rule).includes('underpowered');
  return [
    ...(bad('phases') && setting.perPair === 2 ? [neutral] : []),
    ...(findings.some((finding) => finding.verdict === 'underpowered') ? [heat] : []),
    ...((setting.circuit?.cords ?? []).length > 0 ? [cord] : []),
    ...always,
    wiring,
  ];
}
