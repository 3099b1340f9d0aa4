import type { Finding } from '../protocol/judgement.ts';
import type { CheckResult } from '../protocol/outlet-check.ts';
import { cautionsFor } from './cautions.ts';
import { cord } from './cord.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { thinEvidence } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { worstOfArcs } from './judge.ts';
import { limits } from './limits.ts';
import { loopChannels, wiresInLoop } from './loops.ts';
import { type BeadEvidence, beadOf, beadWants } from './outlet-check-evidence.ts';
import type { OutletCheck } from './outlet-check-state.ts';
import { remedies } from './remedies.ts';
import { say } from './say.ts';
import { supplyAmps } from './supply-amps.ts';
import { fold } from './verdict.ts';
import { machineVolts } from './wiring.ts';

/** What the beads of a check prove: the worst of their arcs, and the newest word on the supply. */
export function checkResult(check: OutletCheck): CheckResult {
  const { about, setting } = check;
  const beads = [check.first, check.bead].filter((bead) => bead !== null);
  const last = beads.at(-1)!;
  const findings = findingsOf(check, beads, last);
  const verdict = fold(findings, setting.plate !== null);
  const { circuit, plate, rated } = setting;
  const foretold = rated === null ? null : fullLoadVolts(setting, rated, last.supply);
  return {
    schema: 'stiffline.outlet-check/1',
    date: about.date,
    person: about.person,
    place: about.place,
    recording: about.recording ?? null,
    machine: plate?.name ?? null,
    circuit: circuit?.name ?? null,
    cords: [...(circuit?.cords ?? [])],
    sensorAt: circuit?.sensorAt ?? 'outlet',
    noLoadVolts: check.noLoad?.volts ?? null,
    idleVolts: check.idle?.volts ?? idleOf(last, setting),
    beads: beads.map((bead) => beadOf(bead, setting)),
    second: check.second,
    supply: supplyOf(last.supply, setting),
    atFullLoad: foretold && { volts: foretold.value, volts95: [foretold.lo, foretold.hi] },
    verdict,
    findings,
    remedies: verdict === 'unproven' ? [] : remedies(setting, last.supply),
    cautions: cautionsFor(setting, findings),
    ...(verdict === 'unproven' && { toProve: toProve(check, last) }),
  };
}

/** What would prove it, most needed first. */
function toProve(check: OutletCheck, last: BeadEvidence): string[] {
  const wants = beadWants(last, check.setting, limits.provenShare.value);
  const missing = [
    ...(check.setting.plate === null ? [say('nameMachine').says] : []),
    ...(untriedCord(check).length > 0 ? [say('tryCord').says] : []),
    ...wants.flatMap(({ needed, doNow }) => (needed && doNow !== null ? [doNow] : [])),
  ];
  return missing.length > 0 ? [...new Set(missing)] : [say('weldWithPauses').says];
}

function findingsOf(check: OutletCheck, beads: BeadEvidence[], last: BeadEvidence): Finding[] {
  const { setting } = check;
  const arcs = beads.reduce<Finding[]>((so, { arc }) => worstOfArcs(so, arc.findings), []);
  const ofArcs = new Set(arcs.map(({ rule }) => rule));
  return [
    ...arcs,
    ...last.arc.findings.filter(({ rule }) => !ofArcs.has(rule)),
    ...untriedCord(check),
    ...supplyAmps.ask(setting),
    ...cord.ask({ ...setting, supply: last.supply }),
  ].filter((finding) => finding.required || finding.verdict !== 'unproven');
}

/** A sensor at the outlet has the cord worked out; one at the machine must have seen it. */
function untriedCord({ about, setting, second }: OutletCheck): Finding[] {
  const { circuit } = setting;
  const tried = about.cordFrom === 'first-bead' || second === 'with-cord';
  if (tried || circuit?.sensorAt !== 'machine' || !circuit.cords?.length) return [];
  const words = { ...say('cordNotTested'), required: true };
  return [thinEvidence('cord', limits.plateLow, words)];
}

function idleOf({ arc }: BeadEvidence, setting: Setting): number | null {
  const idle = loopChannels(setting, arc).map(({ idleVolts }) => idleVolts);
  return idle.includes(null) ? null : machineVolts(idle as number[]);
}

/** The first loop stands for all, as one of two wires: so circuits of a plan take it. */
function supplyOf({ pairs }: SupplyEvidence, setting: Setting): CheckResult['supply'] {
  const [first] = pairs;
  if (!first || pairs.includes(null)) return null;
  const wires = 2 / wiresInLoop(setting);
  const { openVolts, ohmsR, ohmsX } = first;
  return { openVolts, ohmsR: wires * ohmsR, ohmsX: wires * ohmsX };
}
