const lineCount = { two: 1, split: 2, 'three-phase': 3 } as const;

/** How a place is wired: the part of a bay that says how many lines are counted. */
interface Wired {
  wires: keyof typeof lineCount;
}

/** Lines that are counted, and so voltage–current pairs of a sensor. */
export const pairsOf = (bay: Wired): 1 | 2 | 3 => lineCount[bay.wires];

/** Volts of one line, of what the circuit is called by. */
export function lineVolts(bay: Wired, volts: number): number {
  if (bay.wires === 'two') return volts;
  return bay.wires === 'split' ? volts / 2 : volts / Math.sqrt(3);
}
