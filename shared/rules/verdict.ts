import type { Finding, Verdict } from '../protocol/judgement.ts';
import { isBroken, verdicts } from '../protocol/verdicts.ts';

export const rank = (verdict: Verdict): number => verdicts.indexOf(verdict);

/** True when `verdict` is as bad as `than`, or worse. */
export const isAtLeast = (verdict: Verdict, than: Verdict): boolean => rank(verdict) >= rank(than);

/**
 * The worst of the required findings and of any that says `underpowered` or `unsuited`; the rest is
 * advice.
 * Nothing required was asked, or there is no plate: `unproven`.
 */
export function fold(findings: readonly Finding[], hasPlate: boolean): Verdict {
  if (!hasPlate || !findings.some((finding) => finding.required)) return 'unproven';
  return findings
    .filter((finding) => finding.required || isBroken(finding.verdict))
    .reduce<Verdict>(
      (worst, { verdict }) => (rank(verdict) > rank(worst) ? verdict : worst),
      'adequate',
    );
}

/**
 * The worse of two findings of one rule: by verdict, then by margin. One that was not asked (an
 * `unproven` that holds nothing down) never stands in the way of one that was.
 */
export function worse(a: Finding, b: Finding): Finding {
  const order = (finding: Finding) =>
    finding.verdict === 'unproven' && !finding.required ? -1 : rank(finding.verdict);
  const byVerdict = order(a) - order(b);
  if (byVerdict !== 0) return byVerdict > 0 ? a : b;
  return (a.margin ?? Infinity) <= (b.margin ?? Infinity) ? a : b;
}
