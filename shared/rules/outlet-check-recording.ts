import type { Arc } from '../protocol/judgement.ts';
import type { CheckAbout } from '../protocol/outlet-check.ts';
import type { Setting, SupplyEvidence } from './facts.ts';
import { beginCheck, nextCheck } from './outlet-check.ts';
import type { OutletCheck } from './outlet-check-state.ts';

/** An arc, and the supply as it was judged by it: as a live check is told of it. */
interface RecordedArc {
  arc: Arc;
  supply: SupplyEvidence;
}

/**
 * A check out of a judged recording: its arcs as beads, then judged. Where it holds none the check
 * stands at its beginning. A recording takes no time, so none of its gaps makes it lapse.
 */
export function checkRecording(
  about: CheckAbout,
  setting: Setting,
  arcs: readonly RecordedArc[],
): OutletCheck {
  const welded = arcs.reduce(
    (check, { arc, supply }) =>
      nextCheck(check, { kind: 'arc', atS: 0, arc, supply, burning: false }),
    beginCheck(about, setting),
  );
  return welded.bead === null
    ? welded
    : nextCheck(welded, { kind: 'choice', atS: 0, choice: 'judge' });
}
