import type { Hertz, SampleIndex, Volts } from '../units.ts';
import type { HalfCycleRow, HalfCycleSink } from './row.ts';
import type { Interval, SupplyEstimate } from './supply-estimate.ts';
import type { Prediction } from './supply-prediction.ts';
import { predictAtCurrent, predictAtPower } from './supply-prediction.ts';

export type Behaviour = 'constant-power' | 'constant-impedance' | 'unknown';

export interface MachineFit {
  behaviour: Behaviour;
  /** k of P ∝ V^k: 0 constant power, 2 constant impedance; null where nothing moved. */
  exponent: number | null;
  exponent95: Interval | null;
  /** Largest outside change of voltage seen while an arc burned, part of the voltage. */
  spread: number;
}

export interface MachineOptions {
  rateHz: Hertz;
  nominalHertz: 50 | 60;
  pair: number;
}

/** How the machine's draw answers to its voltage. Under way: says unknown until it can tell. */
export class MachineBehaviour implements HalfCycleSink {
  readonly #pair: number;

  constructor(options: MachineOptions) {
    this.#pair = options.pair;
  }

  halfCycle(row: HalfCycleRow): void {
    void row.urms[this.#pair];
  }

  arcBegan(_at: SampleIndex): void {}

  arcEnded(_at: SampleIndex): void {}

  skip(_frames: number): void {}

  /** The supply as now known; call it whenever an arc has ended. */
  supply(_estimate: SupplyEstimate | null): void {}

  fit(): MachineFit {
    return { behaviour: 'unknown', exponent: null, exponent95: null, spread: 0 };
  }
}

/**
 * The voltage foretold at the plate's full load. The plate's I1max holds at U1, so a machine of
 * constant power asks for U1·I1max watts and draws more than I1max where the voltage is lower; a
 * constant impedance draws less. Unknown takes the worse, constant power, for its lower end.
 * Null where the supply cannot carry it.
 */
export function predictAtFullLoad(
  estimate: SupplyEstimate,
  plate: { U1: Volts; I1max: number },
  _behaviour: Behaviour,
): Prediction | null {
  const lag = estimate.lagRadians;
  const watts = plate.U1 * plate.I1max * estimate.fundamentalShare * Math.cos(lag);
  return predictAtPower(estimate, watts) ?? predictAtCurrent(estimate, plate.I1max);
}
