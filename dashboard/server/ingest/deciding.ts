import { decidingFinding } from '../../../shared/protocol/deciding-finding.ts';
import type { Arc, Saying } from '../../../shared/protocol/judgement.ts';
import { say } from '../../../shared/rules/say.ts';

const plain = {
  adequate: 'wasAdequate',
  marginal: 'wasMarginal',
  unproven: 'wasUnproven',
  underpowered: 'wasUnderpowered',
  unsuited: 'wasUnsuited',
} as const;

/** The sentence that goes with a verdict: that of the finding which decided it. */
export const deciding = ({ verdict, findings }: Arc): { says: string; saying?: Saying } =>
  decidingFinding(verdict, findings) ?? say(plain[verdict]);
