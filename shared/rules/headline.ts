import { decidingFinding } from '../protocol/deciding-finding.ts';
import type { Finding, Place, Verdict } from '../protocol/judgement.ts';
import { parts } from '../words/en/parts.ts';

/**
 * "Underpowered: the voltage fell to 104 V at 18 A; the plate needs 108 V." What must not be
 * plugged in is an order, and the reason comes after it. What is good is so where it was measured.
 */
export function headline(
  verdict: Verdict,
  findings: readonly Finding[],
  place: Place = 'machine',
): string {
  const word = parts.verdictAt(verdict, place);
  const says = decidingFinding(verdict, findings)?.says;
  if (!says) return `${word}.`;
  if (verdict === 'unsuited') return `${word}. ${says}`;
  return `${word}: ${says.charAt(0).toLowerCase()}${says.slice(1)}`;
}
