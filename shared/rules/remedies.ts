import type { Verdict } from '../protocol/judgement.ts';
import type { PlannedCircuit } from '../protocol/planning.ts';
import type { Change, Remedy } from '../protocol/remedy.ts';
import type { Volts } from '../units.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { type Feed, judgeFeed } from './feed.ts';
import { limits } from './limits.ts';
import { applyChange, type Case, type Passes, type Proposal } from './remedy-change.ts';
import { cordProposals } from './remedy-cords.ts';
import { dutyProposal, settingProposal } from './remedy-setting.ts';
import {
  branchProposal,
  inputProposals,
  isTooHigh,
  tapProposal,
  transformerProposal,
} from './remedy-wiring.ts';
import { say, sayAll } from './say.ts';
import { machineVolts } from './wiring.ts';

/** What remedies may draw on beside the supply. */
export interface Around {
  /** Null for a circuit that was only described; left out: as the supply's estimate says. */
  openVolts?: Volts | null;
  /** Other circuits of the shop, measured or described. */
  circuits?: readonly PlannedCircuit[];
  /** Fall of the voltage at this outlet that another load on it was seen to make. */
  otherLoadVolts?: Volts;
}

/**
 * What would make it right, the shop's own means first and the shortest of them first. Each passes
 * when judged again after it: full load, class of supply, ampacities and all. Empty where it is
 * right already, where nothing found would do, and where the supply is not proven.
 */
export function remedies(setting: Setting, supply: SupplyEvidence, around: Around = {}): Remedy[] {
  const at: Case = { setting, supply, openVolts: openVoltsOf(supply, around) };
  if (setting.rated === null || setting.plate === null) return [];
  if (['adequate', 'unproven'].includes(verdictOf(at))) return [];
  const { circuits = [], otherLoadVolts = 0 } = around;
  const after = (from: Case) => (change: Change) => {
    const changed = applyChange(from, change, circuits);
    return changed !== null && passes(changed);
  };
  const own = [
    ...cordProposals(at, after(at)),
    ...otherCircuits(at, circuits),
    ...lowered(at, after(at)),
  ];
  const shop = told(at, [], own, 'shop', circuits);
  const wiring = [
    ...branchProposal(at, after(at)),
    ...dedicatedProposal(otherLoadVolts),
    ...inputProposals(at),
    ...tapProposal(at, after(at)),
    ...transformerProposal(at, after(at)),
  ];
  return [
    ...(shop.length > 0 ? shop : withoutCord(at, circuits)),
    ...told(at, [], wiring, 'electrician', circuits),
  ];
}

/** How the machine is fed once every change is made in turn; null where one makes no sense here. */
export function feedAfter(
  setting: Setting,
  supply: SupplyEvidence,
  changes: readonly Change[],
  around: Around = {},
): Feed | null {
  const at: Case = { setting, supply, openVolts: openVoltsOf(supply, around) };
  const changed = applyAll(at, changes, around.circuits ?? []);
  return changed && judgeFeed(changed.setting, changed.supply, changed.openVolts);
}

/** Every change applied in turn, judged again: what the property tests ask too. */
export function passesAfter(...asked: Parameters<typeof feedAfter>): boolean {
  return feedAfter(...asked)?.verdict === 'adequate';
}

const verdictOf = ({ setting, supply, openVolts }: Case): Verdict =>
  judgeFeed(setting, supply, openVolts).verdict;

const passes = (at: Case): boolean => verdictOf(at) === 'adequate';

function openVoltsOf(supply: SupplyEvidence, around: Around): Volts | null {
  if (around.openVolts !== undefined) return around.openVolts;
  const open = supply.pairs.map((view) => view?.openVolts ?? null);
  if (open.length === 0 || open.includes(null)) return null;
  return machineVolts(open as Volts[]);
}

/** Duty before setting: longer pauses cost less than a colder weld. */
const lowered = (at: Case, pass: Passes, bare = false): Proposal[] => [
  ...dutyProposal(at, pass, bare),
  ...settingProposal(at, pass, bare),
];

/** Where no one thing does: off with the cord, and down with the setting. */
function withoutCord(at: Case, circuits: readonly PlannedCircuit[]): Remedy[] {
  if ((at.setting.circuit?.cords ?? []).length === 0) return [];
  const bare: Change = { kind: 'cords', cords: [] };
  const uncorded = applyChange(at, bare);
  if (uncorded === null) return [];
  const pass: Passes = (change) => {
    const changed = applyChange(uncorded, change);
    return changed !== null && passes(changed);
  };
  return told(at, [bare], lowered(uncorded, pass, true), 'shop', circuits);
}

function otherCircuits(at: Case, circuits: readonly PlannedCircuit[]): Proposal[] {
  return circuits
    .filter(({ name }) => name !== at.setting.circuit?.name)
    .map(({ name, supply }) => ({
      change: { kind: 'circuit', name },
      ...say('weldAt', { name, measured: supply !== undefined }),
    }));
}

function dedicatedProposal(fall: Volts): Proposal[] {
  if (fall <= 0) return [];
  return [{ change: { kind: 'dedicated', volts: fall }, ...say('ownCircuit', { fall }) }];
}

/** Those that pass, with the voltage after them. */
function told(
  at: Case,
  before: readonly Change[],
  proposals: readonly Proposal[],
  who: Remedy['who'],
  circuits: readonly PlannedCircuit[],
): Remedy[] {
  return proposals.flatMap(({ change, ...proposed }) => {
    const changes = [...before, change];
    const changed = applyAll(at, changes, circuits);
    if (changed === null) return [];
    const feed = judgeFeed(changed.setting, changed.supply, changed.openVolts);
    const { atFullLoad: foretold } = feed;
    if (feed.verdict !== 'adequate' || foretold === null) return [];
    const needsVolts = limits.plateLow.value * changed.setting.rated!.U1;
    const open = isTooHigh(at) ? changed.openVolts : null;
    const expected = say('expected', { value: foretold.value, needs: needsVolts, open });
    const whose = who === 'electrician' ? [say('electriciansWork')] : [];
    return [
      {
        changes,
        who,
        ...sayAll(proposed, expected, ...whose),
        volts: foretold.value,
        volts95: [foretold.lo, foretold.hi],
        needsVolts,
      },
    ];
  });
}

function applyAll(at: Case, changes: readonly Change[], circuits: readonly PlannedCircuit[]) {
  return changes.reduce<Case | null>((so, change) => so && applyChange(so, change, circuits), at);
}
