import type { OtherLoadEvent, SupplyEstimate } from '../metrology/supply-estimate.ts';
import type { OtherLoadEvidence, OtherStep } from '../rules/facts.ts';
import { howLarge } from '../rules/other-load.ts';
import type { Hertz, SampleIndex } from '../units.ts';

/** A motor that runs draws a sixth of what it starts with; a dip that has recovered left less than
 * this part of itself (common practice, no source). */
const recoveredPart = 1 / 8;

/** The steps that one pair, or one loop, saw; and its supply, where that is known. */
export interface PairSteps {
  events: readonly OtherLoadEvent[];
  estimate: SupplyEstimate | null;
}

/** Steps that own current does not explain, from `since` on, as the rules are told of them. */
export function othersOf(
  pairs: readonly PairSteps[],
  rateHz: Hertz,
  since: SampleIndex,
): OtherLoadEvidence {
  const seen = pairs.flatMap(({ events, estimate }) => {
    const told = events
      .filter((event) => event.at >= since)
      .map((event) => toldOf(event, estimate, rateHz));
    return oneOfEach(told);
  });
  const worst = seen.reduce<OtherStep | null>(
    (most, each) => (most === null || howLarge(each) > howLarge(most) ? each : most),
    null,
  );
  return {
    count: seen.filter(({ stays }) => stays).length,
    worst,
    searched: pairs.every(({ estimate }) => estimate !== null),
  };
}

/** Steps that came close together, with the level before the first in common: the largest. */
function oneOfEach(steps: readonly OtherStep[]): OtherStep[] {
  const largest: OtherStep[] = [];
  for (const step of steps) {
    const at = largest.length - 1;
    if (largest[at]?.openVolts !== step.openVolts) largest.push(step);
    else if (howLarge(step) > howLarge(largest[at])) largest[at] = step;
  }
  return largest;
}

/** A step that the stream ended upon is taken as it was seen. */
function toldOf(event: OtherLoadEvent, estimate: SupplyEstimate | null, rateHz: Hertz): OtherStep {
  const { volts, halfWidthVolts, lastsVolts, lastsHalfWidthVolts, openVolts, mostVolts } = event;
  const lasts = lastsVolts ?? volts;
  // An arc's own edge may hide the first of it.
  const surge = Math.abs(mostVolts) > Math.abs(volts) ? mostVolts : volts;
  const halfWidth = lastsHalfWidthVolts ?? halfWidthVolts;
  return {
    atS: event.at / rateHz,
    volts: lasts,
    halfWidthVolts: halfWidth,
    surgeVolts: surge,
    stays: Math.abs(lasts) > Math.min(halfWidth, recoveredPart * Math.abs(surge)),
    openVolts,
    ohms: estimate === null ? null : Math.hypot(estimate.ohmsR, estimate.ohmsX),
  };
}
