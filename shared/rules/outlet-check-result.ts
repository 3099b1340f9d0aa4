import type { Finding } from '../protocol/judgement.ts';
import type { CheckResult } from '../protocol/outlet-check.ts';
import { cautionsFor } from './cautions.ts';
import { cord } from './cord.ts';
import { leastEvidence } from './evidence.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { thinEvidence } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { worstOfArcs } from './judge.ts';
import { limits } from './limits.ts';
import { loopChannels, wiresInLoop } from './loops.ts';
import { unsuitedBy } from './mismatch.ts';
import { type BeadEvidence, beadOf, beadWants } from './outlet-check-evidence.ts';
import { type OutletCheck, openVoltsOf } from './outlet-check-state.ts';
import { remedies } from './remedies.ts';
import { say } from './say.ts';
import { supplyAmps } from './supply-amps.ts';
import { fold } from './verdict.ts';
import { machineVolts } from './wiring.ts';

/** What the beads of a check prove: the worst of their arcs, and the newest word on the supply. */
export function checkResult(check: OutletCheck): CheckResult {
  const { setting } = check;
  const beads = [check.first, check.bead].filter((bead) => bead !== null);
  const last = beads.at(-1);
  if (last === undefined) return withoutBead(check);
  const findings = findingsOf(check, beads, last);
  const verdict = fold(findings, setting.plate !== null);
  const { rated } = setting;
  const foretold = rated === null ? null : fullLoadVolts(setting, rated, last.supply);
  return {
    ...aboutOf(check),
    idleVolts: check.idle?.volts ?? idleOf(last, setting),
    beads: beads.map((bead, at) => ({
      ...beadOf(bead, setting),
      withCord: hadCord(check, at),
    })),
    supply: supplyOf(last.supply, setting),
    atFullLoad: foretold && { volts: foretold.value, volts95: [foretold.lo, foretold.hi] },
    verdict,
    findings,
    remedies: verdict === 'unproven' ? [] : remedies(setting, last.supply),
    cautions: cautionsFor(setting, findings),
    ...(verdict === 'unproven' && { toProve: toProve(check, last) }),
  };
}

/** What the outlet alone tells: that the machine must not be plugged in. */
function withoutBead(check: OutletCheck): CheckResult {
  const { setting } = check;
  const openVolts = openVoltsOf(check);
  const findings = unsuitedBy(setting, openVolts);
  return {
    ...aboutOf(check),
    idleVolts: check.idle?.volts ?? null,
    beads: [],
    supply: null,
    atFullLoad: null,
    verdict: fold(findings, setting.plate !== null),
    findings,
    remedies: remedies(setting, { pairs: [null], behaviour: 'unknown' }, { openVolts }),
    cautions: cautionsFor(setting, findings),
  };
}

function aboutOf(check: OutletCheck) {
  const { about, setting } = check;
  const { circuit, plate } = setting;
  return {
    schema: 'stiffline.outlet-check/1' as const,
    date: about.date,
    person: about.person,
    place: about.place,
    recording: about.recording ?? null,
    machine: plate?.name ?? null,
    circuit: circuit?.name ?? null,
    cords: [...(circuit?.cords ?? [])],
    sensorAt: circuit?.sensorAt ?? (setting.place === 'unstated' ? 'unstated' : 'outlet'),
    // A step that was enough and led straight to the result was taken.
    noLoadVolts: (check.step === 'no-load' ? check.run : check.noLoad)?.volts ?? null,
    second: check.second,
  } satisfies Partial<CheckResult>;
}

/** Null where there is no cord; `at` counts from the first bead. */
function hadCord({ about, setting, second }: OutletCheck, at: number): boolean | null {
  if ((setting.circuit?.cords ?? []).length === 0) return null;
  return about.cordFrom === 'first-bead' || (at === 1 && second === 'with-cord');
}

/** What would prove it, most needed first. */
function toProve(check: OutletCheck, last: BeadEvidence): string[] {
  const wants = beadWants(last, check.setting, leastEvidence['outlet-check'].share);
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
    ...tooLittle(check, last),
    ...supplyAmps.ask(setting),
    ...cord.ask({ ...setting, supply: last.supply }),
  ].filter((finding) => finding.required || finding.verdict !== 'unproven');
}

/**
 * A bead below what its step asks for proves nothing good; what it shows to fail stands. The first
 * bead vouches for a second one, except where only that had the cord.
 */
function tooLittle({ setting, first, second }: OutletCheck, last: BeadEvidence): Finding[] {
  const missing = (bead: BeadEvidence) =>
    beadWants(bead, setting, leastEvidence['outlet-check'].share).filter(
      ({ needed, enough }) => needed && !enough,
    );
  if (second === 'full-setting' && first && missing(first).length === 0) return [];
  return missing(last).map(({ says, saying, doNow }) =>
    thinEvidence('full-load', limits.provenShare, {
      ...{ says, saying, electrician: doNow, required: true },
    }),
  );
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
