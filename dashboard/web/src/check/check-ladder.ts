import type { Check } from '../../../../shared/protocol/http-check.ts';
import type { LadderFacts } from '../parts/ladder.tsx';
import { ladderFacts } from '../parts/plate-band.ts';

/** What the check has gathered so far, on the ladder; null where no plate is known any more. */
export function checkLadder(check: Check): LadderFacts | null {
  const { bead, plate, circuit, openVolts, result } = check;
  const facts = ladderFacts(bead, plate, circuit, openVolts);
  if (!facts || !result) return facts;
  const { atFullLoad, beads } = result;
  const foretold = atFullLoad && {
    volts: atFullLoad.volts,
    low: atFullLoad.volts95[0],
    high: atFullLoad.volts95[1],
  };
  const least = beads.at(-1)?.leastVolts;
  const kept = least === undefined ? null : { mean: least, lowest: least };
  return { ...facts, arc: facts.arc ?? kept, foretold: foretold ?? facts.foretold };
}
