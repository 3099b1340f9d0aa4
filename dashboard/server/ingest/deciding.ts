import { decidingFinding } from '../../../shared/protocol/deciding-finding.ts';
import type { Arc, Verdict } from '../../../shared/protocol/judgement.ts';

const plain: Record<Verdict, string> = {
  adequate: 'The circuit delivered what the plate needs.',
  marginal: 'The circuit was at the limit of what the plate needs.',
  underpowered: 'The circuit did not deliver what the plate needs.',
  unproven: 'Nothing proves what the circuit delivered.',
};

/** The sentence that goes with a verdict: that of the finding which decided it. */
export const deciding = ({ verdict, findings }: Arc): string =>
  decidingFinding(verdict, findings)?.says ?? plain[verdict];
