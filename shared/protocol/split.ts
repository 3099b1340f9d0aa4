import { type Static, Type } from 'typebox';

const Figure = Type.Union([Type.Number(), Type.Null()]);
const Pair = Type.Tuple([Type.Number(), Type.Number()]);

/** Volts that a part of the wiring took, and the part of the idle voltage that this is. */
const Share = Type.Object({
  volts: Type.Number(),
  volts95: Pair,
  fraction: Type.Number(),
  fraction95: Pair,
});
export type Share = Static<typeof Share>;

/** A fall of the voltage between the machine's terminals, by who took it. */
const SplitShares = Type.Object({
  amps: Type.Number({ description: 'drawn by the machine, of the most loaded pair' }),
  openVolts: Type.Number({ description: 'before the fall' }),
  building: Share,
  cord: Share,
  leftVolts: Type.Number({ description: 'at the machine under this load' }),
});
export type SplitShares = Static<typeof SplitShares>;

/** Why two arcs do not say who took the voltage. */
const SplitDoubt = Type.Enum([
  ...(['pairs', 'no-overlap', 'lost', 'no-idle'] as const),
  /** More than the sensors' accuracy apart: another load between them, or another circuit. */
  ...(['currents', 'idle-volts'] as const),
  /** The voltage fell less at the machine than at the outlet. */
  'swapped',
]);
export type SplitDoubt = Static<typeof SplitDoubt>;

/**
 * One weld seen by a sensor at the outlet and one at the machine: the fall of the voltage split
 * into the building's share, from the utility to the outlet, and the cord's. With a doubt nothing
 * is told; `outlet` and `machine` are then what disagreed, A or V, null where it is no figure.
 */
export const DropSplit = Type.Object({
  doubt: Type.Union([
    Type.Object({ kind: SplitDoubt, outlet: Figure, machine: Figure }),
    Type.Null(),
  ]),
  /** From the idle machine to the arc's mean. */
  atArc: Type.Union([SplitShares, Type.Null()]),
  /** From no load to the plate's I1max, foretold; null where the supply or the plate is unknown. */
  atFullLoad: Type.Union([SplitShares, Type.Null()]),
});
export type DropSplit = Static<typeof DropSplit>;
