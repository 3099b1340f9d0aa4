import type { Judgement } from '../protocol/judgement.ts';
import type { CheckAbout } from '../protocol/outlet-check.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { beginCheck, nextCheck, type OutletCheck } from './outlet-check.ts';
import { viewOf } from './planned-supply.ts';

/**
 * A check out of a judged recording: its arcs as beads, then judged. Where it holds none the check
 * stands at its beginning. A recording takes no time, so none of its gaps makes it lapse.
 */
export function checkRecording(
  about: CheckAbout,
  setting: Setting,
  judgement: Judgement,
): OutletCheck {
  const supply: SupplyEvidence = {
    pairs: judgement.supply.map((each) => each && viewOf(each, each.openVolts)),
    behaviour: judgement.machine.behaviour,
  };
  const welded = judgement.arcs.reduce(
    (check, arc) => nextCheck(check, { kind: 'arc', atS: 0, arc, supply, burning: false }),
    beginCheck(about, setting),
  );
  return welded.bead === null
    ? welded
    : nextCheck(welded, { kind: 'choice', atS: 0, choice: 'judge' });
}
