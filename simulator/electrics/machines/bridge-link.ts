import { stepS } from '../clockwork.ts';
import type { Terminals } from './machine.ts';

/** Forward volts of one diode; two conduct at a time. */
export const diodeVolts = 0.9;

export interface BridgeSpec {
  farads: number;
  /** Everything in series on the supply's side of the capacitor. */
  ohms: number;
  henries: number;
}

/** Diode bridge into a capacitor; its current is a load's from the step before. */
export class BridgeLink {
  /** Volts of the capacitor. */
  volts: number;
  /** Out of the capacitor; set before a step. */
  loadAmps = 0;
  ohms: number;
  private volts1: number;
  private amps1 = 0;
  private amps2 = 0;
  private readonly drop: number;
  /** Volts for a change of one ampere in the choke; for an ampere in one step on the capacitor. */
  private readonly kick: number;
  private readonly charge: number;

  constructor(spec: BridgeSpec, volts = 0, dropVolts = 2 * diodeVolts) {
    this.kick = spec.henries / stepS;
    this.charge = stepS / (1.5 * spec.farads);
    this.ohms = spec.ohms;
    this.volts = volts;
    this.volts1 = volts;
    this.drop = dropVolts;
  }

  /** Sets the amperes from the supply. */
  step(at: Terminals): void {
    const { kick, charge } = this;
    const open = at.volts - kick * (0.5 * this.amps2 - 2 * this.amps1);
    const before = (2 * this.volts - 0.5 * this.volts1) / 1.5 - charge * this.loadAmps;
    const behind = at.ohms + this.ohms + 1.5 * kick + charge;
    const size = Math.max(0, (Math.abs(open) - this.drop - before) / behind);
    const amps = open < 0 ? -size : size;
    this.volts1 = this.volts;
    this.volts = Math.max(0, before + charge * size);
    this.amps2 = this.amps1;
    this.amps1 = amps;
    at.amps = amps;
  }
}
