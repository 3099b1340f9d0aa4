import type { PlateRating } from '../protocol/plate.ts';
import type { Amperes } from '../units.ts';
import { arcWatts } from './rated-output.ts';
import type { Case, Passes, Proposal } from './remedy-change.ts';
import { say } from './say.ts';

/** Under this part of its output a machine is another machine. Common practice, no source. */
const leastPart = 0.3;
const weldStep: Amperes = 5;
const dutyStep = 0.05;
const leastDuty = 0.1;

/**
 * The highest setting that passes; it proves nothing for work that needs more. `bare`: the cord is
 * off already.
 */
export function settingProposal(at: Case, passes: Passes, bare: boolean): Proposal[] {
  const { rated, plate } = at.setting;
  if (rated === null) return [];
  const top = plate?.ratings?.reduce<PlateRating | null>(
    (most, each) => (most === null || each.I2 > most.I2 ? each : most),
    null,
  );
  if (!top) return byInput(rated.I1max, passes, bare);
  for (
    let weldAmps = below(top.I2, weldStep);
    weldAmps >= leastPart * top.I2;
    weldAmps -= weldStep
  ) {
    // Supply current goes with the output's power: a constant efficiency, which falls a little.
    const inputAmps = (rated.I1max * arcWatts(weldAmps)) / arcWatts(top.I2);
    const change = { kind: 'setting', weldAmps, inputAmps } as const;
    if (!passes(change)) continue;
    return [{ change, ...say('setNoMore', { weldAmps, inputAmps, bare }) }];
  }
  return [];
}

function byInput(most: Amperes, passes: Passes, bare: boolean): Proposal[] {
  for (let inputAmps = below(most, 1); inputAmps >= leastPart * most; inputAmps--) {
    const change = { kind: 'setting', weldAmps: null, inputAmps } as const;
    if (!passes(change)) continue;
    return [{ change, ...say('drawNoMore', { inputAmps, bare }) }];
  }
  return [];
}

/** The next multiple of the step under a value. */
const below = (value: number, step: number) => (Math.ceil(value / step) - 1) * step;

/** Shorter welds and longer pauses: heats wires less, and changes no voltage. */
export function dutyProposal(at: Case, passes: Passes, bare: boolean): Proposal[] {
  const { rated } = at.setting;
  if (rated === null) return [];
  const now = rated.I1eff === undefined ? 1 : (rated.I1eff / rated.I1max) ** 2;
  for (let steps = Math.ceil(now / dutyStep) - 1; steps * dutyStep >= leastDuty - 1e-9; steps--) {
    const share = Math.round(steps * dutyStep * 100) / 100;
    if (!passes({ kind: 'duty', share })) continue;
    return [{ change: { kind: 'duty', share }, ...say('weldNoMore', { share, bare }) }];
  }
  return [];
}
