import { commonPractice } from './limits.ts';

/** Every bound of the split between building and cord, with its reason. */
export const splitLimits = {
  source: commonPractice,
  /** Part of the longer arc that both must cover: means of other stretches cannot be compared. */
  overlap: 0.9,
  /** Noise and a charger beside the cord, A; on top of what the sensors' accuracy allows. */
  currentAmps: 0.3,
  /** Part of the voltage that an idle machine's own current may take in a long thin cord. */
  idlePart: 0.01,
  /** Two sensors' idle seconds need not be the same one; part of the voltage. */
  windowPart: 0.0008,
  /** A utility's voltage wanders by this part of it, 95 %, in the seconds that a bead takes. */
  wanderPart: 0.005,
} as const;
