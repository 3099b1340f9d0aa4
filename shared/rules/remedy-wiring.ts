import type { Branch } from '../protocol/circuit.ts';
import { limits } from './limits.ts';
import type { Case, Passes, Proposal } from './remedy-change.ts';
import { say } from './say.ts';
import { gaugeOf, runOf, squareMillimetres } from './wire.ts';

/** Branch wire, thin to thick, that one welder's circuit is ever made of. */
const branchGauges: readonly Branch[] = [
  ...[14, 12, 10, 8, 6, 4, 3, 2, 1].map((awg) => ({ awg })),
  ...['1/0', '2/0', '3/0', '4/0'].map((awg) => ({ awg })),
] as Branch[];
const metricBranches: readonly Branch[] = [1.5, 2.5, 4, 6, 10, 16, 25, 35, 50].map((mm2) => ({
  mm2,
}));
/** Boosts of small transformers wound for 12, 16, 24 or 32 V on 120 or 240 V; from memory. */
const boosts = [1.05, 16 / 240 + 1, 1.1, 32 / 240 + 1, 1.2] as const;
/** Over this part of U1 before any load, boosting is no cure for thin wire. */
const lowOpen = 0.98;
/** Another input is worth rewiring for where it asks for clearly less current. */
const higherInput = 1.2;

/** The thinnest copper branch over the present one that passes. */
export function branchProposal({ setting }: Case, passes: Passes): Proposal[] {
  const branch = setting.circuit?.branch;
  if (!branch || (branch.feet === undefined && branch.metres === undefined)) return [];
  // The new wire lies where the old one lay: as hot, among as many, at the same terminals.
  const { awg: _awg, mm2: _mm2, metal: _metal, ...laid } = branch;
  const sizes = branch.mm2 === undefined ? branchGauges : metricBranches;
  const aluminium = branch.metal === 'aluminium';
  const wire = sizes
    .filter(
      (size) => squareMillimetres(size) > squareMillimetres(branch) * (aluminium ? 0.999 : 1.001),
    )
    .map((size): Branch => ({ ...size, ...laid, metal: 'copper' }))
    .find((each) => passes({ kind: 'branch', branch: each }));
  if (!wire) return [];
  const told = { wire: gaugeOf(wire), run: runOf(wire), present: gaugeOf(branch) };
  return [{ change: { kind: 'branch', branch: wire }, ...say('copperBranch', told) }];
}

/** Other lines of the plate that ask for less current. */
export function inputProposals(at: Case): Proposal[] {
  const { plate, rated } = at.setting;
  if (!plate || !rated) return [];
  // Where the voltage is too high any line of the plate is worth a circuit of its own volts.
  const least = isTooHigh(at) ? 0 : higherInput * rated.U1;
  return plate.supply
    .filter(({ U1 }) => U1 >= least)
    .map(({ U1 }) => ({
      change: { kind: 'input', U1 },
      ...say('otherInput', { plate: U1 }),
    }));
}

/** Taps of a distribution transformer under its nominal one, 2.5 % each; from memory. */
const lowerTaps = [0.975, 0.95] as const;

/** More than U1 + 10 % before any load. */
export const isTooHigh = ({ setting: { rated }, openVolts }: Case): boolean =>
  rated !== null && openVolts !== null && openVolts > limits.plateHigh.value * rated.U1;

/** For a supply over the plate's tolerance: a question, since the tap may feed others too. */
export function tapProposal(at: Case, passes: Passes): Proposal[] {
  if (!isTooHigh(at)) return [];
  const ratio = lowerTaps.find((each) => passes({ kind: 'tap', ratio: each }));
  if (ratio === undefined) return [];
  return [{ change: { kind: 'tap', ratio }, ...say('lowerTap', { part: 1 - ratio }) }];
}

/** For a supply that is low before any load, as 208 V under a 240 V plate. */
export function transformerProposal(at: Case, passes: Passes): Proposal[] {
  const { rated, circuit } = at.setting;
  const open = at.openVolts ?? circuit?.volts ?? null;
  if (rated === null || open === null) return [];
  if (isTooHigh(at)) return bucking(passes);
  if (open >= lowOpen * rated.U1) return [];
  const ratio = boosts.find((each) => passes({ kind: 'transformer', ratio: each }));
  if (ratio === undefined) return [];
  return [{ change: { kind: 'transformer', ratio }, ...say('boosting', { part: ratio - 1 }) }];
}

/** The same transformers the other way about. */
function bucking(passes: Passes): Proposal[] {
  const ratio = boosts
    .map((each) => 1 / each)
    .find((each) => passes({ kind: 'transformer', ratio: each }));
  if (ratio === undefined) return [];
  return [{ change: { kind: 'transformer', ratio }, ...say('bucking', { part: 1 - ratio }) }];
}
