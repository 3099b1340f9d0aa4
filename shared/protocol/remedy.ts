import type { Branch, Cord } from './circuit.ts';
import type { Saying } from './judgement.ts';

/** One thing changed, as data: it can be applied and judged again. */
export type Change =
  /** What stands between outlet and machine; empty: no cord. */
  | { kind: 'cords'; cords: Cord[] }
  /** A lower setting; `weldAmps` is null where the plate names no output. */
  | { kind: 'setting'; weldAmps: number | null; inputAmps: number }
  /** Arc-on share of ten minutes. */
  | { kind: 'duty'; share: number }
  | { kind: 'circuit'; name: string }
  | { kind: 'branch'; branch: Branch }
  /** A circuit of its own: what other loads took, V, is given back. */
  | { kind: 'dedicated'; volts: number }
  /** The same wires on another voltage that the plate takes. */
  | { kind: 'input'; U1: number }
  /** A tap of the transformer that feeds the place, out after over out before. */
  | { kind: 'tap'; ratio: number }
  /** A transformer of its own, boosting or bucking, out over in. */
  | { kind: 'transformer'; ratio: number };

/** What would make it right: after it the machine gets what its plate needs. */
export interface Remedy {
  changes: Change[];
  /** Whose work it is: wiring is never the shop's own. */
  who: 'shop' | 'electrician';
  says: string;
  /** Absent from what was stored before sentences had names. */
  saying?: Saying;
  /** Expected at the machine at its full current, or at the lower setting's. */
  volts: number;
  volts95: [number, number];
  needsVolts: number;
}
