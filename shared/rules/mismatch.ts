import type { Finding } from '../protocol/judgement.ts';
import { isBroken } from '../protocol/verdicts.ts';
import type { Volts } from '../units.ts';
import type { Setting } from './facts.ts';
import { phases } from './phases.ts';
import { rank } from './verdict.ts';
import { voltageClass } from './voltage-class.ts';

/**
 * What speaks against a machine on a supply before any load, the worst first: its class, its
 * phases. `openVolts` between the machine's terminals; null: the circuit is what it is called.
 */
export function mismatches(setting: Setting, openVolts: Volts | null): Finding[] {
  return [
    ...voltageClass.ask({ ...setting, openVolts }),
    ...phases.ask({ ...setting, phases: null }),
  ]
    .filter(({ verdict }) => isBroken(verdict) || verdict === 'marginal')
    .sort((a, b) => rank(b.verdict) - rank(a.verdict));
}

/** What forbids that the machine is plugged in at all. */
export const unsuitedBy = (...asked: Parameters<typeof mismatches>): Finding[] =>
  mismatches(...asked).filter(({ verdict }) => verdict === 'unsuited');
