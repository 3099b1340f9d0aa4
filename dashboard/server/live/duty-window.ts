const windowS = 600;
/** Arcs in ten minutes: tacks of 0.2 s and as much between are 1,500; of more the oldest go. */
const most = 2_048;

/** Arc-on share of the last ten minutes (the duty of IEC 60974-1 counts in tens of minutes). */
export class DutyWindow {
  readonly #arcs: { startS: number; endS: number }[] = [];

  /** Arcs come in order of their ends. */
  add(startS: number, endS: number): void {
    this.#arcs.push({ startS, endS });
    while (this.#arcs.length > most || this.#arcs[0]!.endS < endS - windowS) this.#arcs.shift();
  }

  /** Null before the first arc. */
  fraction(nowS: number): number | null {
    if (this.#arcs.length === 0) return null;
    const from = nowS - windowS;
    const onS = this.#arcs.reduce(
      (sum, arc) => sum + Math.max(0, Math.min(arc.endS, nowS) - Math.max(arc.startS, from)),
      0,
    );
    return onS / windowS;
  }
}
