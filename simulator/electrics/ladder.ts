import { assert } from '../../shared/assert.ts';
import { stepS } from './clockwork.ts';
import { foldingOf, type Matrix, multiply } from './linear.ts';

/** Rungs, from the source outward: the panel, the outlet, the machine's terminals. */
export const panel = 0;
export const outlet = 1;
export const terminals = 2;
export const rungs = 3;
/** The machine's interference filter, and what keeps an open line from floating. */
const leakSiemens = 1 / 22_000;

/** Something that hangs on a rung: a conductance, with a current of its own beside it. */
export interface Shunt {
  readonly rung: number;
  /** Lines it hangs between; `to` is −1 for the return. */
  readonly from: number;
  readonly to: number;
  /** Siemens; whoever changes it calls `Ladder.refold()`. */
  siemens: number;
  /** Amperes at zero volts, from its own past. */
  amps: number;
  /** Takes the volts that this step came to. */
  settle(volts: number): void;
}

/**
 * The wiring from the source to the machine, solved together at every step: three series sections
 * with loads hanging at their ends. Inductances are integrated by the second-order backward
 * formula, which does not ring when a diode chops a current; so each step is a network of
 * resistors, folded from the source to one equivalent at the machine's terminals, where the
 * machine solves its own current, and unfolded again.
 *
 * Lines are hot conductors, voltages are against the return. One-line circuits have their return's
 * ohms counted into the line.
 */
export class Ladder {
  readonly lines: number;
  /** Ohms and henries of a line in a section: `[section * lines + line]`. */
  readonly ohms: Float64Array;
  readonly henries: Float64Array;
  /** Of the shared return, a section an entry. */
  readonly returnOhms = new Float64Array(rungs);
  readonly returnHenries = new Float64Array(rungs);
  /** What the machine sees: volts behind a matrix of ohms. */
  readonly seenVolts: Float64Array;
  readonly seenOhms: Matrix;
  /** The machine's answer: amperes into it, a line an entry. */
  readonly drawn: Float64Array;
  /** This step's volts at the rungs and amperes through the sections. */
  readonly volts: Float64Array;
  readonly amps: Float64Array;

  private readonly shunts: Shunt[];
  private readonly shunted = new Uint8Array(rungs);
  private readonly amps1: Float64Array;
  private readonly amps2: Float64Array;
  private readonly past: Float64Array;
  private readonly seriesOhms: Float64Array;
  private readonly commonOhms = new Float64Array(rungs);
  /** Henries over the step: volts for a change of one ampere. */
  private readonly kick: Float64Array;
  private readonly commonKick = new Float64Array(rungs);
  private readonly own: Float64Array;
  private readonly before: Matrix[];
  private readonly folding: Matrix[];
  private readonly conductance: Matrix[];

  constructor(lines: number, shunts: Shunt[]) {
    assert(lines >= 1 && lines <= 3, 'one to three lines');
    const each = (): Matrix[] => Array.from({ length: rungs }, () => new Float64Array(lines ** 2));
    const all = (): Float64Array => new Float64Array(rungs * lines);
    this.lines = lines;
    this.shunts = shunts;
    this.ohms = all();
    this.henries = all();
    this.volts = all();
    this.amps = all();
    this.amps1 = all();
    this.amps2 = all();
    this.past = all();
    this.own = all();
    this.seriesOhms = all();
    this.kick = all();
    this.before = each();
    this.folding = each();
    this.conductance = each();
    this.seenVolts = new Float64Array(lines);
    this.drawn = new Float64Array(lines);
    this.seenOhms = new Float64Array(lines ** 2);
  }

  /** Takes changed ohms, henries and siemens into account. */
  refold(): void {
    const n = this.lines;
    const r = this.seenOhms.fill(0);
    for (let section = 0; section < rungs; section++) {
      const common = this.returnOhms[section]! + (1.5 * this.returnHenries[section]!) / stepS;
      this.commonOhms[section] = common;
      this.commonKick[section] = this.returnHenries[section]! / stepS;
      for (let line = 0; line < n; line++) {
        const at = section * n + line;
        this.kick[at] = this.henries[at]! / stepS;
        this.seriesOhms[at] = this.ohms[at]! + 1.5 * this.kick[at]!;
        r[line * n + line]! += this.seriesOhms[at]!;
      }
      for (let at = 0; at < n * n; at++) r[at]! += common;
      const before = this.before[section]!;
      before.set(r);
      const g = this.conductanceAt(section);
      if (this.shunted[section] === 0) continue;
      const folding = this.folding[section]!;
      foldingOf(before, g, n, folding);
      multiply(folding, before, n, r);
    }
  }

  private conductanceAt(rung: number): Matrix {
    const n = this.lines;
    const g = this.conductance[rung]!.fill(0);
    this.shunted[rung] = rung === terminals ? 1 : 0;
    if (rung === terminals) for (let line = 0; line < n; line++) g[line * n + line] = leakSiemens;
    for (const shunt of this.shunts) {
      if (shunt.rung !== rung) continue;
      this.shunted[rung] = 1;
      const { from, to, siemens } = shunt;
      g[from * n + from]! += siemens;
      if (to < 0) continue;
      g[to * n + to]! += siemens;
      g[from * n + to]! -= siemens;
      g[to * n + from]! -= siemens;
    }
    return g;
  }

  /** Folds the source's volts outward into `seenVolts`. */
  fold(emf: Float64Array): void {
    const n = this.lines;
    const seen = this.seenVolts;
    for (let line = 0; line < n; line++) seen[line] = emf[line]!;
    if (this.shunts.length > 0) this.gatherShunts();
    for (let section = 0; section < rungs; section++) {
      const common = this.commonKick[section]!;
      let sum = 0;
      for (let line = 0; line < n; line++) {
        const at = section * n + line;
        sum += this.past[at] = 0.5 * this.amps2[at]! - 2 * this.amps1[at]!;
      }
      for (let line = 0; line < n; line++) {
        const at = section * n + line;
        const past = this.past[at]! * this.kick[at]! + common * sum;
        this.past[at] = past;
        seen[line]! -= past;
      }
      if (this.shunted[section] === 1) this.foldRung(section);
    }
  }

  private gatherShunts(): void {
    this.own.fill(0);
    for (let at = 0; at < this.shunts.length; at++) {
      const shunt = this.shunts[at]!;
      const base = shunt.rung * this.lines;
      this.own[base + shunt.from]! += shunt.amps;
      if (shunt.to >= 0) this.own[base + shunt.to]! -= shunt.amps;
    }
  }

  private foldRung(rung: number): void {
    const n = this.lines;
    const seen = this.seenVolts;
    const before = this.before[rung]!;
    const folding = this.folding[rung]!;
    const base = rung * n;
    // Scratch space: `volts` of this rung are not known before the way back.
    for (let row = 0; row < n; row++) {
      let volts = seen[row]!;
      for (let k = 0; k < n; k++) volts -= before[row * n + k]! * this.own[base + k]!;
      this.volts[base + row] = volts;
    }
    for (let row = 0; row < n; row++) {
      let volts = 0;
      for (let k = 0; k < n; k++) volts += folding[row * n + k]! * this.volts[base + k]!;
      seen[row] = volts;
    }
  }

  /** Goes back from the machine's `drawn` to the volts and amperes of every rung. */
  unfold(): void {
    const n = this.lines;
    const { volts, amps, amps1, amps2, drawn } = this;
    const last = terminals * n;
    for (let row = 0; row < n; row++) {
      let v = this.seenVolts[row]!;
      for (let k = 0; k < n; k++) v -= this.seenOhms[row * n + k]! * drawn[k]!;
      volts[last + row] = v;
      amps2[last + row] = amps1[last + row]!;
      amps1[last + row] = amps[last + row] = drawn[row]!;
    }
    for (let section = terminals; section >= 0; section--) {
      const base = section * n;
      if (this.shunted[section] === 1) this.drawAt(section);
      if (section === 0) break;
      let sum = 0;
      for (let line = 0; line < n; line++) sum += amps[base + line]!;
      const common = this.commonOhms[section]! * sum;
      for (let line = 0; line < n; line++) {
        const at = base + line;
        const inner = at - n;
        volts[inner] = volts[at]! + this.seriesOhms[at]! * amps[at]! + this.past[at]! + common;
        amps2[inner] = amps1[inner]!;
        amps1[inner] = amps[inner] = amps[at]!;
      }
    }
    for (let at = 0; at < this.shunts.length; at++) {
      const { rung, from, to } = this.shunts[at]!;
      const base = rung * n;
      const back = to < 0 ? 0 : volts[base + to]!;
      this.shunts[at]!.settle(volts[base + from]! - back);
    }
  }

  private drawAt(rung: number): void {
    const n = this.lines;
    const base = rung * n;
    const g = this.conductance[rung]!;
    for (let row = 0; row < n; row++) {
      let amps = this.own[base + row]!;
      for (let k = 0; k < n; k++) amps += g[row * n + k]! * this.volts[base + k]!;
      this.amps[base + row]! += amps;
      this.amps1[base + row] = this.amps[base + row]!;
    }
  }
}
