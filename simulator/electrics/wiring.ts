import type { Breaker } from './breaker.ts';
import { sliceS } from './clockwork.ts';
import { type Ladder, outlet, panel, terminals } from './ladder.ts';
import type { Random } from './random.ts';
import type { Bay } from './scenario.ts';
import { Wander } from './wander.ts';
import { Wire } from './wire.ts';

/** Ohms of a contact that is apart; the machine's leak then holds the line near zero. */
const apart = 1e7;

/** Ohms and henries of each section of a bay's ladder, as they warm, loosen and break. */
export class Wiring {
  private readonly bay: Bay;
  private readonly ladder: Ladder;
  private readonly breaker: Breaker | null;
  private readonly sections: Wire[][];
  private readonly sourceOhms: number;
  private readonly loose: Wander;
  private looseHeat = 0;
  private readonly lost: boolean[];
  private neutralOhms = 0;

  constructor(bay: Bay, hertz: number, ladder: Ladder, breaker: Breaker | null, random: Random) {
    const { supply, circuit, really } = bay;
    this.bay = bay;
    this.ladder = ladder;
    this.breaker = breaker;
    this.lost = Array.from({ length: ladder.lines }, () => false);
    this.loose = new Wander(random, 0.25, 0.4, sliceS);
    const service = supply.kind === 'utility' && supply.service ? [supply.service] : [];
    const branch = really.branch ?? circuit.branch;
    this.sections = [
      service.map((spec) => new Wire(spec, 'fixed')),
      (branch ? [branch] : []).map((spec) => new Wire(spec, 'fixed')),
      (really.cords ?? circuit.cords).map((spec) => new Wire(spec, 'cord')),
    ];
    const [r, x] = transformerOf(bay);
    this.sourceOhms = supply.ohmsR + r;
    for (let section = panel; section <= terminals; section++) {
      let x60 = 0;
      for (const wire of this.sections[section]!) x60 += wire.ohmsX60;
      const henries = x60 / (2 * Math.PI * 60);
      const own = section === panel ? (supply.ohmsX + x) / (2 * Math.PI * hertz) : 0;
      this.spread(ladder.henries, ladder.returnHenries, section, henries, own);
    }
    this.slice(new Float64Array(3));
  }

  /** Mean square amperes of the sections' fullest lines in the last slice. */
  slice(amps2: Float64Array): void {
    const { ladder, bay } = this;
    for (let section = panel; section <= terminals; section++) {
      let wires = 0;
      for (const wire of this.sections[section]!) {
        wires += wire.warmUp(amps2[section]!, bay.ambientC);
      }
      const own =
        section === panel ? this.sourceOhms : section === outlet ? this.contact(amps2) : 0;
      this.spread(ladder.ohms, ladder.returnOhms, section, wires, own);
    }
    const n = ladder.lines;
    for (let line = 0; line < n; line++) {
      if (this.breaker?.open) ladder.ohms[outlet * n + line]! += apart;
      if (this.lost[line]) ladder.ohms[panel * n + line]! += apart;
    }
    ladder.returnOhms[panel]! += this.neutralOhms;
  }

  loseLine(line: number): void {
    this.lost[line] = true;
  }

  openNeutral(ohms: number): void {
    this.neutralOhms = ohms;
  }

  /** A worn contact: its ohms wander, and grow as it heats under current (an estimate). */
  private contact(amps2: Float64Array): number {
    const { looseOhms } = this.bay;
    if (looseOhms === 0) return 0;
    this.looseHeat += ((Math.min(1, amps2[outlet]! / 900) - this.looseHeat) * sliceS) / 20;
    return looseOhms * (1 + this.looseHeat) * Math.exp(this.loose.next());
  }

  /** Gives a wire to the line and its return; on one line the loop has both. */
  private spread(
    lines: Float64Array,
    returns: Float64Array,
    section: number,
    wires: number,
    own: number,
  ): void {
    const n = this.ladder.lines;
    for (let line = 0; line < n; line++) {
      lines[section * n + line] = own + (n === 1 ? 2 * wires : wires);
    }
    returns[section] = n === 1 ? 0 : wires;
  }
}

/** Transformer's ohms as the source's are counted: Z = %Z·V²/S, halved for a leg of split phase. */
function transformerOf({ supply, circuit, wires }: Bay): [number, number] {
  if (supply.kind !== 'utility' || !supply.transformer) return [0, 0];
  const { kva, percentZ, reactanceOverResistance: q } = supply.transformer;
  const whole = ((percentZ / 100) * circuit.volts ** 2) / (kva * 1000);
  const r = (wires === 'split' ? whole / 2 : whole) / Math.hypot(1, q);
  return [r, q * r];
}
