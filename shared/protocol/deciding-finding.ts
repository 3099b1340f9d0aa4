import type { Finding, Verdict } from './judgement.ts';

/** The finding that a verdict stands on: the worst that it was folded from; null where none. */
export function decidingFinding(verdict: Verdict, findings: readonly Finding[]): Finding | null {
  const those = findings.filter((finding) => finding.verdict === verdict);
  const required = those.filter((finding) => finding.required);
  const [first = null, ...rest] = required.length > 0 ? required : those;
  return rest.reduce(
    (worst, each) => (relative(each) < relative(worst ?? each) ? each : worst),
    first,
  );
}

/** Margins of unlike units compare as parts of their limits. */
function relative(finding: Finding): number {
  const { margin, limit, verdict, interval } = finding;
  // A bare fact that is good says little, one that is bad needs no figures.
  if (margin === null || (verdict === 'adequate' && interval === null))
    return verdict === 'adequate' ? Infinity : -Infinity;
  return limit === null || limit === 0 ? margin : margin / Math.abs(limit);
}
