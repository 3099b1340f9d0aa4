import type { SampleIndex } from '../units.ts';
import { columns } from './columns.ts';
import type { IntervalRow } from './interval-row.ts';
import type { HalfCycleRow } from './row.ts';

/** An empty row for `pairs` voltage–current pairs. */
export function emptyIntervalRow(pairs: number): IntervalRow {
  const column = columns(3, pairs);
  return {
    start: NaN,
    end: NaN,
    parts: 0,
    flagged: false,
    whole: false,
    urms: column(),
    irms: column(),
    watts: column(),
  };
}

/** The half cycles of one 10/12-cycle interval: squares and power weighted by their time. */
export class BasicSum {
  start: SampleIndex = NaN;
  end: SampleIndex = NaN;
  halves = 0;
  ended = false;
  flagged = false;
  whole = true;
  /** It is the first of its clock period, the last of it. */
  opensTen = false;
  closesTen = false;
  private readonly u2: Float64Array;
  private readonly i2: Float64Array;
  private readonly p: Float64Array;

  constructor(pairs: number) {
    const column = columns(3, pairs);
    this.u2 = column();
    this.i2 = column();
    this.p = column();
  }

  begin(start: SampleIndex): void {
    this.start = this.end = start;
    this.halves = 0;
    this.ended = this.flagged = this.opensTen = this.closesTen = false;
    this.whole = true;
    this.u2.fill(0);
    this.i2.fill(0);
    this.p.fill(0);
  }

  /** The row's newest half cycle. */
  addNewer(row: HalfCycleRow): void {
    const length = row.end - row.middle;
    for (let n = 0; n < this.u2.length; n++) {
      this.u2[n]! += row.uhalf[n]! ** 2 * length;
      this.i2[n]! += row.ihalf[n]! ** 2 * length;
      this.p[n]! += row.whalf[n]! * length;
    }
    this.end = row.end;
    this.count(row);
  }

  /** The half cycle before it: what the whole window has and the newest half has not. */
  addOlder(row: HalfCycleRow): void {
    const cycle = row.end - row.start;
    const newer = row.end - row.middle;
    for (let n = 0; n < this.u2.length; n++) {
      this.u2[n]! += Math.max(0, row.urms[n]! ** 2 * cycle - row.uhalf[n]! ** 2 * newer);
      this.i2[n]! += Math.max(0, row.irms[n]! ** 2 * cycle - row.ihalf[n]! ** 2 * newer);
      this.p[n]! += row.watts[n]! * cycle - row.whalf[n]! * newer;
    }
    this.end = row.middle;
    this.count(row);
  }

  read(row: IntervalRow): void {
    const length = this.end - this.start;
    row.start = this.start;
    row.end = this.end;
    row.parts = this.halves / 2;
    row.flagged = this.flagged;
    row.whole = this.whole;
    for (let n = 0; n < this.u2.length; n++) {
      row.urms[n] = Math.sqrt(this.u2[n]! / length);
      row.irms[n] = Math.sqrt(this.i2[n]! / length);
      row.watts[n] = this.p[n]! / length;
    }
  }

  private count(row: HalfCycleRow): void {
    this.halves++;
    this.whole &&= row.locked;
  }
}

/** The 10/12-cycle values of a longer interval: each counts once, as the clause has it. */
export class LongSum {
  whole = true;
  readonly row: IntervalRow;
  private readonly u2: Float64Array;
  private readonly i2: Float64Array;
  private readonly p: Float64Array;

  constructor(pairs: number) {
    this.row = emptyIntervalRow(pairs);
    const column = columns(3, pairs);
    this.u2 = column();
    this.i2 = column();
    this.p = column();
  }

  get parts(): number {
    return this.row.parts;
  }

  clear(): void {
    this.row.parts = 0;
    this.row.flagged = false;
    this.whole = true;
    this.u2.fill(0);
    this.i2.fill(0);
    this.p.fill(0);
  }

  add(basic: IntervalRow): void {
    if (this.row.parts === 0) this.row.start = basic.start;
    this.row.end = basic.end;
    this.row.parts++;
    this.row.flagged ||= basic.flagged;
    this.whole &&= basic.whole;
    for (let n = 0; n < this.u2.length; n++) {
      this.u2[n]! += basic.urms[n]! ** 2;
      this.i2[n]! += basic.irms[n]! ** 2;
      this.p[n]! += basic.watts[n]!;
    }
  }

  read(): IntervalRow {
    const { row } = this;
    row.whole = this.whole;
    for (let n = 0; n < this.u2.length; n++) {
      row.urms[n] = Math.sqrt(this.u2[n]! / row.parts);
      row.irms[n] = Math.sqrt(this.i2[n]! / row.parts);
      row.watts[n] = this.p[n]! / row.parts;
    }
    return row;
  }
}
