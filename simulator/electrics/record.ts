/** Something wrong, or something else at work; `endS` is null while it lasts. */
export interface TrueFault {
  kind: string;
  startS: number;
  endS: number | null;
  says: string;
}

/** Entries kept of each kind: a long day's; what comes later is not written down. */
const kept = 20_000;

/** What happened on a circuit, in its own true time, for the truth file. */
export class Happenings {
  readonly arcs: { startS: number; endS: number | null; joules: Float64Array }[] = [];
  readonly faults: TrueFault[] = [];

  /** @param joules spent so far at each tap. */
  arcBegins(startS: number, joules: Float64Array): void {
    if (this.arcs.length < kept) this.arcs.push({ startS, endS: null, joules: joules.slice() });
  }

  arcEnds(endS: number, joules: Float64Array): void {
    const arc = this.arcs.at(-1);
    if (!arc || arc.endS !== null) return;
    arc.endS = endS;
    for (let tap = 0; tap < joules.length; tap++) arc.joules[tap] = joules[tap]! - arc.joules[tap]!;
  }

  begins(kind: string, startS: number, says: string): void {
    if (this.faults.length < kept) this.faults.push({ kind, startS, endS: null, says });
  }

  ends(kind: string, endS: number): void {
    const fault = this.faults.findLast((each) => each.kind === kind && each.endS === null);
    if (fault) fault.endS = endS;
  }

  instant(kind: string, atS: number, says: string): void {
    if (this.faults.length < kept) this.faults.push({ kind, startS: atS, endS: atS, says });
  }
}
