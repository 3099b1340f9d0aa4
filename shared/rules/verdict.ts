import type { Finding, Verdict } from '../protocol/judgement.ts';

/**
 * Good to bad. `unproven` stands over `marginal`: a limit that may be missed by anything is worse
 * than one that lies within a known interval.
 */
export const verdicts = ['adequate', 'marginal', 'unproven', 'underpowered'] as const;

export const rank = (verdict: Verdict): number => verdicts.indexOf(verdict);

/** True when `verdict` is as bad as `than`, or worse. */
export const isAtLeast = (verdict: Verdict, than: Verdict): boolean => rank(verdict) >= rank(than);

/**
 * The worst of the required findings and of any that says `underpowered`; the rest is advice.
 * Nothing required was asked, or there is no plate: `unproven`.
 */
export function fold(findings: readonly Finding[], hasPlate: boolean): Verdict {
  if (!hasPlate || !findings.some((finding) => finding.required)) return 'unproven';
  return findings
    .filter((finding) => finding.required || finding.verdict === 'underpowered')
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
