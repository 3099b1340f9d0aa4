import { leastEvidence } from './evidence.ts';
import { commonPractice } from './limits.ts';

/** Every bound of the outlet check, with its reason. None is published: all are common practice. */
export const checkLimits = {
  source: commonPractice,
  /** Seconds of steady voltage; loads that switch in a thermostat's rhythm show in longer ones. */
  steadyS: 5,
  /** A step of the voltage over this part of it is another load, not the utility's wander. */
  steadyPart: 0.01,
  /** A circuit under this is dead, or the sensor is not on it. */
  aliveVolts: 30,
  /** More than a sensor's noise and a charger in the same strip. */
  nothingAmps: 0.5,
  /** A machine that is on draws this much more than an empty outlet: 6 W at 120 V. */
  idleAmps: 0.05,
  /** Rows come once a second: where none did for so long, something may have switched unseen. */
  gapS: 4,
  /** A bead's least evidence stands with that of the rules. */
  beadS: leastEvidence['outlet-check'].seconds,
  /** Shorter arcs are tacks or tries of the trigger, and are passed over. */
  tackS: 0.3,
  /** A later bead this much lighter than one that is enough proves less, and is passed over. */
  lighterShare: 0.9,
  /** Part of the plate's full current from which a bead counts as one at full setting. */
  fullShare: leastEvidence['outlet-check-at-full-setting'].share,
  /** A supply looks otherwise an hour later: a check that takes longer begins anew. */
  lastsS: 3_600,
  /** Outlets wear, neighbours get machines: after a month a check says little. */
  staleDays: 30,
} as const;
