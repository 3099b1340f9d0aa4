import { stepS } from '../clockwork.ts';
import type { Matrix } from '../linear.ts';
import { type BridgeSpec, diodeVolts } from './bridge-link.ts';

/** Changes of the set of conducting diodes tried within a step; commutation needs two or three. */
const tries = 8;

/**
 * Six diodes, a choke and a capacitor on three lines without a neutral. At every step it looks for
 * the set of diodes that agrees with its own solution, beginning with the last step's: each line
 * hangs on the upper rail (+1), on the lower (−1), or on none (0).
 */
export class SixPulse {
  /** Volts of the capacitor. */
  volts: number;
  ohms: number;
  private readonly spec: BridgeSpec;
  private readonly drop: number;
  private volts1: number;
  private amps1 = 0;
  private amps2 = 0;
  private readonly rail = new Int8Array(3);
  private readonly amps = new Float64Array(3);
  /** Volts of the lower rail against the return; meaningful while two or more lines conduct. */
  private lower = 0;

  constructor(spec: BridgeSpec, volts = 0, dropVolts = diodeVolts) {
    this.spec = spec;
    this.ohms = spec.ohms;
    this.volts = volts;
    this.volts1 = volts;
    this.drop = dropVolts;
  }

  /** Fills `drawn` for volts behind ohms and amperes out of the capacitor. */
  step(volts: Float64Array, ohms: Matrix, drawn: Float64Array, loadAmps: number): void {
    const perStep = this.spec.henries / stepS;
    const charge = stepS / (1.5 * this.spec.farads);
    const before = (2 * this.volts - 0.5 * this.volts1) / 1.5 - charge * loadAmps;
    const back = before + 2 * this.drop + perStep * (0.5 * this.amps2 - 2 * this.amps1);
    const behind = this.ohms + 1.5 * perStep + charge;
    for (let at = 0; at < tries; at++) {
      this.solve(volts, ohms, back, behind);
      if (!this.amend(volts, ohms, back, behind)) break;
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
  private solve(e: Float64Array, r: Matrix, back: number, behind: number): void {
    const { rail, amps } = this;
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
    const loop = (a: number, b: number): number =>
      r[a * 3 + b]! - r[a * 3 + alone]! - r[alone * 3 + b]! + r[alone * 3 + alone]!;
    const ea = side * (e[first]! - e[alone]!) - back;
    if (second < 0) {
      const through = ea / (loop(first, first) + behind);
      amps[first] = side * through;
      amps[alone] = -side * through;
    } else {
      const eb = side * (e[second]! - e[alone]!) - back;
      const aa = loop(first, first) + behind;
      const bb = loop(second, second) + behind;
      const ab = loop(first, second) + behind;
      const ba = loop(second, first) + behind;
      const scale = side / (aa * bb - ab * ba);
      amps[first] = (ea * bb - eb * ab) * scale;
      amps[second] = (eb * aa - ea * ba) * scale;
      amps[alone] = -(amps[first]! + amps[second]!);
    }
  }

  private terminal(e: Float64Array, r: Matrix, line: number): number {
    const { amps } = this;
    const at = line * 3;
    return e[line]! - r[at]! * amps[0]! - r[at + 1]! * amps[1]! - r[at + 2]! * amps[2]!;
  }

  /** Corrects one line that disagrees with the solution. @returns whether one did. */
  private amend(e: Float64Array, r: Matrix, back: number, behind: number): boolean {
    const { rail, amps } = this;
    if (rail[0] === 0 && rail[1] === 0 && rail[2] === 0) return this.begin(e, back);
    for (let line = 0; line < 3; line++) {
      if (rail[line] !== 0 && rail[line]! * amps[line]! < 0) {
        rail[line] = 0;
        return true;
      }
    }
    const upper = this.terminal(e, r, rail.indexOf(1));
    let through = 0;
    for (let line = 0; line < 3; line++) if (rail[line] === 1) through += amps[line]!;
    this.lower = upper - back - behind * through;
    for (let line = 0; line < 3; line++) {
      if (rail[line] !== 0) continue;
      const v = this.terminal(e, r, line);
      if (v > upper || v < this.lower) {
        rail[line] = v > upper ? 1 : -1;
        return true;
      }
    }
    return false;
  }

  private begin(e: Float64Array, back: number): boolean {
    let high = 0;
    let low = 0;
    for (let line = 1; line < 3; line++) {
      if (e[line]! > e[high]!) high = line;
      if (e[line]! < e[low]!) low = line;
    }
    if (e[high]! - e[low]! <= back) return false;
    this.rail[high] = 1;
    this.rail[low] = -1;
    return true;
  }
}
