/** Volts that a part of the wiring took, and the part of the idle voltage that this is. */
export interface Share {
  volts: number;
  volts95: [number, number];
  fraction: number;
  fraction95: [number, number];
}

/** A fall of the voltage between the machine's terminals, by who took it. */
export interface SplitShares {
  /** Drawn by the machine, of the most loaded pair. */
  amps: number;
  /** Before the fall. */
  openVolts: number;
  /** From the utility to the outlet. */
  building: Share;
  /** From the outlet to the machine. */
  cord: Share;
  /** At the machine under this load. */
  leftVolts: number;
}

/** Why two arcs do not say who took the voltage. */
export type SplitDoubt =
  | 'pairs'
  | 'no-overlap'
  | 'lost'
  | 'no-idle'
  /** More than the sensors' accuracy apart: another load between them, or another circuit. */
  | 'currents'
  | 'idle-volts'
  /** The voltage fell less at the machine than at the outlet. */
  | 'swapped';

/**
 * One weld seen by a sensor at the outlet and one at the machine: the fall of the voltage split
 * into the building's and the cord's. With a doubt nothing is told; `outlet` and `machine` are then
 * what disagreed, A or V, null where it is no figure.
 */
export interface DropSplit {
  doubt: { kind: SplitDoubt; outlet: number | null; machine: number | null } | null;
  /** From the idle machine to the arc's mean. */
  atArc: SplitShares | null;
  /** From no load to the plate's I1max, foretold; null where the supply or the plate is unknown. */
  atFullLoad: SplitShares | null;
}
