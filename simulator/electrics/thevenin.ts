import { type Ladder, rungs } from './ladder.ts';
import { foldingOf, type Matrix, multiply } from './linear.ts';
import type { Other } from './neighbour.ts';

/** Of each line, at each rung: open volts over the source's, and impedance seen. */
export interface Seen {
  /** `[rung * lines + line]`. */
  open: Float64Array;
  ohmsR: Float64Array;
  ohmsX: Float64Array;
}

/** A line behind more than this is apart, and has no supply to tell of. */
const apartOhms = 1000;
/** Looks that a mean reaches back: ohms warm within minutes, volts wander and are asked longer. */
const ohmsLooks = 200;
const voltsLooks = 400;

/** What was seen lately, as means that forget. */
export class Looks {
  private readonly open: Float64Array;
  private readonly ohmsR: Float64Array;
  private readonly ohmsX: Float64Array;
  private readonly count: Float64Array;
  private readonly idleCount: Float64Array;
  private readonly lines: number;

  constructor(lines: number) {
    this.lines = lines;
    this.count = new Float64Array(lines);
    this.idleCount = new Float64Array(lines);
    this.open = new Float64Array(rungs * lines);
    this.ohmsR = new Float64Array(rungs * lines);
    this.ohmsX = new Float64Array(rungs * lines);
  }

  /** @param rms of the source; `idle` when no arc burns: only then is its voltage an open one. */
  add(seen: Seen, rms: number, idle: boolean): void {
    const n = this.lines;
    for (let line = 0; line < n; line++) {
      if (seen.ohmsR[(rungs - 1) * n + line]! > apartOhms) continue;
      const share = 1 / Math.min((this.count[line]! += 1), ohmsLooks);
      if (idle) this.idleCount[line]! += 1;
      const openShare = idle ? 1 / Math.min(this.idleCount[line]!, voltsLooks) : 0;
      for (let at = line; at < rungs * n; at += n) {
        this.open[at]! += (seen.open[at]! * rms - this.open[at]!) * openShare;
        this.ohmsR[at]! += (seen.ohmsR[at]! - this.ohmsR[at]!) * share;
        this.ohmsX[at]! += (seen.ohmsX[at]! - this.ohmsX[at]!) * share;
      }
    }
  }

  /** Open volts, ohms and reactance of a line at a rung. */
  at(rung: number, line: number): { openVolts: number; ohmsR: number; ohmsX: number } {
    const at = rung * this.lines + line;
    return { openVolts: this.open[at]!, ohmsR: this.ohmsR[at]!, ohmsX: this.ohmsX[at]! };
  }
}

/**
 * What a phasor instrument with no error would find at each rung: the source and the others' loads
 * folded at one frequency. Complex figures are carried as real blocks [[re, −im], [im, re]].
 *
 * @param returns for each line, where its own machine's current comes back: a line; −1, the
 *   return; −2, all the other lines alike. A line's impedance is its own less the mutual one.
 */
export function seenFrom(
  ladder: Ladder,
  others: readonly Other[],
  hertz: number,
  returns: readonly number[],
): Seen {
  const n = ladder.lines;
  const size = 2 * n;
  const omega = 2 * Math.PI * hertz;
  let z: Matrix = new Float64Array(size * size);
  let e = identity(size);
  const out: Seen = {
    open: new Float64Array(rungs * n),
    ohmsR: new Float64Array(rungs * n),
    ohmsX: new Float64Array(rungs * n),
  };
  for (let rung = 0; rung < rungs; rung++) {
    const common = [ladder.returnOhms[rung]!, omega * ladder.returnHenries[rung]!] as const;
    for (let row = 0; row < n; row++) {
      for (let column = 0; column < n; column++) add(z, n, row, column, common[0], common[1]);
      const at = rung * n + row;
      add(z, n, row, row, ladder.ohms[at]!, omega * ladder.henries[at]!);
    }
    const folding = new Float64Array(size * size);
    foldingOf(z, admittances(others, rung, n, omega), size, folding);
    z = product(folding, z, size);
    e = product(folding, e, size);
    for (let line = 0; line < n; line++) note(out, rung * n, line, n, z, e, returns[line]!);
  }
  return out;
}

const product = (a: Matrix, b: Matrix, size: number): Matrix => {
  const out = new Float64Array(size * size);
  multiply(a, b, size, out);
  return out;
};

function identity(size: number): Matrix {
  const out = new Float64Array(size * size);
  for (let at = 0; at < size; at++) out[at * size + at] = 1;
  return out;
}

function add(m: Matrix, n: number, row: number, column: number, re: number, im: number): void {
  const size = 2 * n;
  m[row * size + column]! += re;
  m[(row + n) * size + column + n]! += re;
  m[row * size + column + n]! -= im;
  m[(row + n) * size + column]! += im;
}

function admittances(others: readonly Other[], rung: number, n: number, omega: number): Matrix {
  const g = new Float64Array(4 * n * n);
  for (const other of others) {
    if (!other.on) continue;
    for (const branch of other.branches) {
      if (branch.rung !== rung) continue;
      const x = omega * branch.henries;
      const square = branch.ohms ** 2 + x * x;
      const re = branch.ohms / square;
      const im = -x / square;
      add(g, n, branch.from, branch.from, re, im);
      if (branch.to < 0) continue;
      add(g, n, branch.to, branch.to, re, im);
      add(g, n, branch.from, branch.to, -re, -im);
      add(g, n, branch.to, branch.from, -re, -im);
    }
  }
  return g;
}

/** Legs and phases are displaced: open volts fold with the source's own angles. */
const angles: Record<number, readonly number[]> = {
  1: [0],
  2: [0, Math.PI],
  3: [0, (-2 * Math.PI) / 3, (2 * Math.PI) / 3],
};

function note(
  out: Seen,
  base: number,
  line: number,
  n: number,
  z: Matrix,
  e: Matrix,
  back: number,
): void {
  const size = 2 * n;
  let re = 0;
  let im = 0;
  for (let k = 0; k < n; k++) {
    const angle = angles[n]![k]!;
    const gainRe = e[line * size + k]!;
    const gainIm = e[(line + n) * size + k]!;
    re += gainRe * Math.cos(angle) - gainIm * Math.sin(angle);
    im += gainRe * Math.sin(angle) + gainIm * Math.cos(angle);
  }
  out.open[base + line] = Math.hypot(re, im);
  let mutualR = 0;
  let mutualX = 0;
  for (let k = 0; k < n; k++) {
    const weight = back === -2 ? (k === line ? 0 : 1 / (n - 1)) : k === back ? 1 : 0;
    mutualR += weight * z[line * size + k]!;
    mutualX += weight * z[(line + n) * size + k]!;
  }
  out.ohmsR[base + line] = z[line * size + line]! - mutualR;
  out.ohmsX[base + line] = z[(line + n) * size + line]! - mutualX;
}
