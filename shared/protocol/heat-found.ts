import type { Heat } from './http.ts';
import type { Finding } from './judgement.ts';

/** What the rule of heat found; null where no band is, or the arc is too short to say yet. */
export function heatFound(findings: readonly Finding[]): Heat | null {
  const heat = findings.find(({ rule }) => rule === 'heat');
  if (!heat || heat.measured === null || heat.limit === null || heat.margin === null) return null;
  const { measured: watts, limit, margin } = heat;
  return { watts, word: margin >= 0 ? 'inside' : watts < limit ? 'colder' : 'hotter' };
}
