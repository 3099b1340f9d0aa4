import type { Verdict } from './judgement.ts';

/**
 * Good to bad. `unproven` stands over `marginal`: a limit that may be missed by anything is worse
 * than one that lies within a known interval. `unsuited` is the worst: the machine must not be
 * plugged in here, whatever the wiring is worth.
 */
export const verdicts = ['adequate', 'marginal', 'unproven', 'underpowered', 'unsuited'] as const;

/** A limit is broken, whichever rule says so: it raises a flag that a named person acknowledges. */
export const isBroken = (verdict: Verdict | undefined): boolean =>
  verdict === 'underpowered' || verdict === 'unsuited';
