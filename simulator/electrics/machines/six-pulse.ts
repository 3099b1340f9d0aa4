import { stepS } from '../clockwork.ts';
import type { Matrix } from '../linear.ts';
import { type BridgeSpec, diodeVolts } from './bridge-link.ts';

/** Changes of the set of conducting diodes tried within a step; commutation needs two or three. */
const tries = 8;

/** Ohms that couple two lines' loops through the line that is their way back. */
function loop(r: Matrix, a: number, b: number, back: number): number {
  return r[a * 3 + b]! - r[a * 3 + back]! - r[back * 3 + b]! + r[back * 3 + back]!;
}

/**
 * Six diodes, a choke and a capacitor on three lines without a neutral. At every step it looks for
 * the set of diodes that agrees with its own solution, beginning with the last step's: each line
 * hangs on the upper rail (+1), on the lower (−1), or on none (0).
 */
export class SixPulse {
  /** Volts of the capacitor. */
  volts: number;
  /** Out of the capacitor; set before a step. */
  loadAmps = 0;
  ohms: number;
  private readonly drop: number;
  /** Volts for a change of one ampere in the choke; for an ampere in one step on the capacitor. */
  private readonly kick: number;
  private readonly charge: number;
  private volts1: number;
  private amps1 = 0;
  private amps2 = 0;
  private readonly rail = new Int8Array(3);
  private readonly amps = new Float64Array(3);
  /** Between the rails, at no current and an ampere of it, in this step. */
  private back = 0;
  private behind = 0;

  constructor(spec: BridgeSpec, volts = 0, dropVolts = diodeVolts) {
    this.kick = spec.henries / stepS;
    this.charge = stepS / (1.5 * spec.farads);
    this.ohms = spec.ohms;
    this.volts = volts;
    this.volts1 = volts;
    this.drop = dropVolts;
  }

  /** Fills `drawn` for volts behind ohms. */
  step(volts: Float64Array, ohms: Matrix, drawn: Float64Array): void {
    const { kick, charge } = this;
    const before = (2 * this.volts - 0.5 * this.volts1) / 1.5 - charge * this.loadAmps;
    this.back = before + 2 * this.drop + kick * (0.5 * this.amps2 - 2 * this.amps1);
    this.behind = this.ohms + 1.5 * kick + charge;
    for (let at = 0; at < tries; at++) {
      this.solve(volts, ohms);
      if (!this.amend(volts, ohms)) break;
    }
    let amps = 0;
    for (let line = 0; line < 3; line++) {
      drawn[line] = this.amps[line]!;
      if (this.rail[line] === 1) amps += this.amps[line]!;
    }
    amps = Math.max(0, amps);
    this.volts1 = this.volts;
    this.volts = Math.max(0, before + charge * amps);
    this.amps2 = this.amps1;
    this.amps1 = amps;
  }

  /** Currents for the present set. One line alone on a rail carries all the choke's current. */
  private solve(e: Float64Array, r: Matrix): void {
    const { rail, amps, back, behind } = this;
    amps[0] = amps[1] = amps[2] = 0;
    const up = (rail[0] === 1 ? 1 : 0) + (rail[1] === 1 ? 1 : 0) + (rail[2] === 1 ? 1 : 0);
    const down = (rail[0] === -1 ? 1 : 0) + (rail[1] === -1 ? 1 : 0) + (rail[2] === -1 ? 1 : 0);
    if (up === 0 || down === 0) {
      rail.fill(0);
      return;
    }
    // The line alone on its rail is the way back of the other one or two.
    const alone = up === 1 ? rail.indexOf(1) : rail.indexOf(-1);
    const side = up === 1 ? -1 : 1;
    const first = rail.indexOf(side);
    const second = rail.indexOf(side, first + 1);
    const ea = side * (e[first]! - e[alone]!) - back;
    if (second < 0) {
      const through = ea / (loop(r, first, first, alone) + behind);
      amps[first] = side * through;
      amps[alone] = -side * through;
    } else {
      const eb = side * (e[second]! - e[alone]!) - back;
      const aa = loop(r, first, first, alone) + behind;
      const bb = loop(r, second, second, alone) + behind;
      const ab = loop(r, first, second, alone) + behind;
      const ba = loop(r, second, first, alone) + behind;
      const scale = side / (aa * bb - ab * ba);
      amps[first] = (ea * bb - eb * ab) * scale;
      amps[second] = (eb * aa - ea * ba) * scale;
      amps[alone] = -(amps[first]! + amps[second]!);
    }
  }

  /** Volts of a line's terminal. */
  private terminal(e: Float64Array, r: Matrix, line: number): number {
    const { amps } = this;
    const at = line * 3;
    return e[line]! - r[at]! * amps[0]! - r[at + 1]! * amps[1]! - r[at + 2]! * amps[2]!;
  }

  /** Corrects one line that disagrees with the solution. @returns whether one did. */
  private amend(e: Float64Array, r: Matrix): boolean {
    const { rail, amps, back, behind } = this;
    if (rail[0] === 0 && rail[1] === 0 && rail[2] === 0) return this.begin(e);
    for (let line = 0; line < 3; line++) {
      if (rail[line] !== 0 && rail[line]! * amps[line]! < 0) {
        rail[line] = 0;
        return true;
      }
    }
    const upper = this.terminal(e, r, rail.indexOf(1));
    let through = 0;
    for (let line = 0; line < 3; line++) if (rail[line] === 1) through += amps[line]!;
    const lower = upper - back - behind * through;
    for (let line = 0; line < 3; line++) {
      if (rail[line] !== 0) continue;
      const v = this.terminal(e, r, line);
      if (v > upper || v < lower) {
        rail[line] = v > upper ? 1 : -1;
        return true;
      }
    }
    return false;
  }

  private begin(e: Float64Array): boolean {
    let high = 0;
    let low = 0;
    for (let line = 1; line < 3; line++) {
      if (e[line]! > e[high]!) high = line;
      if (e[line]! < e[low]!) low = line;
    }
    if (e[high]! - e[low]! <= this.back) return false;
    this.rail[high] = 1;
    this.rail[low] = -1;
    return true;
  }
}
