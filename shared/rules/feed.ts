import type { Finding, Verdict } from '../protocol/judgement.ts';
import { cord } from './cord.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import type { Reading } from './finding.ts';
import { fullLoad } from './full-load.ts';
import { output } from './output.ts';
import { phases } from './phases.ts';
import { supplyAmps } from './supply-amps.ts';
import { fold } from './verdict.ts';
import { voltageClass } from './voltage-class.ts';

/** Whether a supply feeds a machine at its plate's full current, with no arc to look at. */
export interface Feed {
  verdict: Verdict;
  /** Voltage at the machine; null where the supply is not known, or the machine unsuited. */
  atFullLoad: Reading | null;
  findings: Finding[];
}

/** `openVolts` between the machine's terminals, or null: the circuit is what it is called. */
export function judgeFeed(
  setting: Setting,
  supply: SupplyEvidence,
  openVolts: number | null,
): Feed {
  const { plate } = setting;
  const asked = { ...setting, supply, openVolts, phases: null };
  const kind = [...voltageClass.ask(asked), ...phases.ask(asked)];
  const wrong = kind.filter(({ verdict }) => verdict === 'unsuited');
  // What it would do under a load that it must never see is no news.
  if (wrong.length > 0) return { verdict: 'unsuited', atFullLoad: null, findings: wrong };
  const load = fullLoad.ask(asked);
  const findings = [
    ...load,
    ...kind,
    ...output.ask(asked),
    ...supplyAmps.ask(setting),
    ...cord.ask(asked),
  ].filter((finding) => finding.required || finding.verdict !== 'unproven');
  return { verdict: fold(findings, plate !== null), atFullLoad: foretold(load[0]), findings };
}

function foretold(load: Finding | undefined): Reading | null {
  if (!load || load.measured === null || load.interval === null) return null;
  return { value: load.measured, lo: load.interval[0], hi: load.interval[1] };
}
