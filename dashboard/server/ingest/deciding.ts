import type { Arc, Finding, Verdict } from '../../../shared/protocol/judgement.ts';

const plain: Record<Verdict, string> = {
  adequate: 'The circuit delivered what the plate needs.',
  marginal: 'The circuit was at the limit of what the plate needs.',
  underpowered: 'The circuit did not deliver what the plate needs.',
  unproven: 'Nothing proves what the circuit delivered.',
};

/** The sentence that goes with a verdict: that of the finding which decided it. */
export function deciding(arc: Arc): string {
  const same = arc.findings.filter((finding) => finding.verdict === arc.verdict);
  const [first] = same.sort((a, b) => weight(b) - weight(a));
  return first?.says ?? plain[arc.verdict];
}

/** A required finding before advice; among them the one furthest over its limit. */
function weight(finding: Finding): number {
  const part =
    finding.margin !== null && finding.limit ? -finding.margin / Math.abs(finding.limit) : -1;
  return (finding.required ? 1_000 : 0) + Math.min(100, Math.max(-100, part));
}
