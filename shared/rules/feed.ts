import type { Finding, Verdict } from '../protocol/judgement.ts';
import { cord } from './cord.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import type { Reading } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { fullLoad } from './full-load.ts';
import { phases } from './phases.ts';
import { supplyAmps } from './supply-amps.ts';
import { fold } from './verdict.ts';
import { voltageClass } from './voltage-class.ts';

/** Whether a supply feeds a machine at its plate's full current, with no arc to look at. */
export interface Feed {
  verdict: Verdict;
  /** Voltage at the machine; null where the supply is not known, or has too few phases. */
  atFullLoad: Reading | null;
  findings: Finding[];
}

const unknownSupply: SupplyEvidence = { pairs: [null], behaviour: 'unknown' };

/** `openVolts` between the machine's terminals, or null: the circuit is what it is called. */
export function judgeFeed(
  setting: Setting,
  supply: SupplyEvidence,
  openVolts: number | null,
): Feed {
  const { rated, plate } = setting;
  const asked = { ...setting, supply, openVolts, phases: null };
  const tooFewPhases = plate?.phases === 3 && setting.circuit?.phases === 1;
  const atFullLoad = rated === null || tooFewPhases ? null : fullLoadVolts(setting, rated, supply);
  const load = tooFewPhases ? [] : fullLoad.ask(asked);
  // Longest cords take most of the time, and matter where the voltage is what fails.
  const falls = load.some(({ verdict }) => verdict !== 'adequate');
  const findings = [
    ...load,
    ...voltageClass.ask(asked),
    ...phases.ask(asked),
    ...supplyAmps.ask(setting),
    ...cord.ask(falls ? asked : { ...asked, supply: unknownSupply }),
  ].filter((finding) => finding.required || finding.verdict !== 'unproven');
  return { verdict: fold(findings, plate !== null), atFullLoad, findings };
}
