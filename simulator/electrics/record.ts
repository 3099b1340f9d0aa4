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
  readonly arcs: { startS: number; endS: number | null; wattSteps: Float64Array }[] = [];
  readonly faults: TrueFault[] = [];

  /** @param wattSteps that passed each rung so far. */
  arcBegins(startS: number, wattSteps: Float64Array): void {
    if (this.arcs.length < kept)
      this.arcs.push({ startS, endS: null, wattSteps: wattSteps.slice() });
  }

  arcEnds(endS: number, wattSteps: Float64Array): void {
    const arc = this.arcs.at(-1);
    if (!arc || arc.endS !== null) return;
    arc.endS = endS;
    for (let rung = 0; rung < wattSteps.length; rung++) {
      arc.wattSteps[rung] = wattSteps[rung]! - arc.wattSteps[rung]!;
    }
  }

  /** Takes the arc that burns now, which will not do, off the list. @returns when it began. */
  arcFails(): number {
    const arc = this.arcs.at(-1);
    if (!arc || arc.endS !== null) return Number.NaN;
    this.arcs.pop();
    return arc.startS;
  }

  begins(kind: string, startS: number, says: string): void {
    if (this.faults.length < kept) this.faults.push({ kind, startS, endS: null, says });
  }

  ends(kind: string, endS: number): void {
    const fault = this.faults.findLast((each) => each.kind === kind && each.endS === null);
    if (fault) fault.endS = endS;
  }

  lasted(kind: string, startS: number, endS: number, says: string): void {
    if (this.faults.length < kept) this.faults.push({ kind, startS, endS, says });
  }
}
