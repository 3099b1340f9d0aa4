import { Arc } from './arc.ts';
import { Breaker } from './breaker.ts';
import { machineOf, returnsOf, sourceOf } from './build.ts';
import { sliceSteps, stepS } from './clockwork.ts';
import { Ladder, outlet, panel, rungs, terminals } from './ladder.ts';
import { lineVolts, pairsOf } from './lines.ts';
import type { WeldingMachine } from './machines/machine.ts';
import { Other } from './neighbour.ts';
import { Random } from './random.ts';
import { Happenings } from './record.ts';
import type { Bay } from './scenario.ts';
import type { Source } from './source.ts';
import { Looks, seenFrom } from './thevenin.ts';
import { Welder } from './welder.ts';
import { Wiring } from './wiring.ts';

/** Slices between two looks at the true supply: 50 ms. */
const lookSlices = 16;
/** What goes out sooner than this was a try, not an arc, s. */
const strikeS = 0.15;

/** Watches every step of a circuit from one place. */
export interface Tap {
  readonly rung: number;
  step(): void;
}

/** One bay's electricity, from the utility to the arc, advanced a slice at a time. */
export class ShopCircuit {
  readonly ladder: Ladder;
  readonly happenings = new Happenings();
  readonly looks: Looks;
  /** Energy that passed each rung toward the machine, in watts times steps. */
  readonly wattSteps = new Float64Array(rungs);
  readonly bay: Bay;
  readonly taps: Tap[] = [];
  private readonly source: Source;
  private readonly machine: WeldingMachine;
  private readonly arc: Arc;
  private readonly welder: Welder;
  private readonly others: Other[];
  private readonly breaker: Breaker | null;
  private readonly wiring: Wiring;
  private readonly returns: number[];
  private readonly eventsLeft: Bay['events'];
  private readonly amps2 = new Float64Array(rungs);
  private readonly squares: Float64Array;
  private sourceWattSteps = 0;
  /** Imported names cost a look-up where modules are run untied; the inner loop has its own. */
  private readonly outletAt = outlet;
  private readonly machineAt = terminals;
  private peakAmps = 0;
  private struckS = 0;
  private slices = 0;

  constructor(bay: Bay, seed: number) {
    const lines = pairsOf(bay);
    const stream = (part: string): Random => new Random(seed, `${bay.name}/${part}`);
    const { hertz, breakerAmps } = bay.circuit;
    const volts = lineVolts(bay, bay.circuit.volts);
    this.bay = bay;
    this.others = bay.neighbours.map(
      (spec) => new Other(spec, volts, lines, hertz, stream(`neighbour/${spec.name}`)),
    );
    this.ladder = new Ladder(
      lines,
      this.others.flatMap((other) => other.branches),
    );
    this.source = sourceOf(bay, stream('source'));
    this.arc = new Arc(bay.work, stream('arc'));
    this.welder = new Welder(bay.work, stream('welder'));
    this.machine = machineOf(bay, this.arc);
    const { magneticMultiple, resetS } = bay.breaker;
    this.breaker = breakerAmps ? new Breaker(breakerAmps, magneticMultiple, resetS) : null;
    this.wiring = new Wiring(bay, hertz, this.ladder, this.breaker, stream('contact'));
    this.returns = returnsOf(bay);
    this.eventsLeft = [...bay.events].sort((a, b) => a.atS - b.atS);
    this.squares = new Float64Array(rungs * lines);
    this.looks = new Looks(lines);
    for (const { kind, says } of bay.faults) this.happenings.begins(kind, 0, says);
  }

  /** Circuit time, s. */
  get nowS(): number {
    return this.slices * sliceSteps * stepS;
  }

  /** Advances by one slice; every tap sees every step of it. */
  advance(): void {
    this.lookAround();
    const { ladder, source, arc, machine, welder, taps } = this;
    const start = this.slices * sliceSteps;
    const end = start + sliceSteps;
    for (let step = start; step < end; step++) {
      if (welder.step()) this.triggerMoved(step * stepS);
      arc.step();
      source.step();
      ladder.fold(source.emf);
      machine.step(ladder.seenVolts, ladder.seenOhms, ladder.drawn);
      ladder.unfold();
      this.account();
      for (let at = 0; at < taps.length; at++) taps[at]!.step();
    }
    this.slices += 1;
  }

  private account(): void {
    const { ladder, squares, wattSteps, outletAt, machineAt } = this;
    const n = ladder.lines;
    const { amps, volts } = ladder;
    for (let at = 0; at < squares.length; at++) squares[at]! += amps[at]! * amps[at]!;
    for (let line = 0; line < n; line++) {
      const own = amps[machineAt * n + line]!;
      wattSteps[outletAt]! += volts[outletAt * n + line]! * own;
      wattSteps[machineAt]! += volts[machineAt * n + line]! * own;
      this.sourceWattSteps += this.source.emf[line]! * amps[line]!;
      const size = Math.abs(amps[outletAt * n + line]!);
      if (size > this.peakAmps) this.peakAmps = size;
    }
  }

  /** What changes slowly: drift, heat, switches, breaker, regulators. */
  private lookAround(): void {
    const nowS = this.nowS;
    const n = this.ladder.lines;
    for (let rung = 0; rung < rungs; rung++) {
      let most = 0;
      for (let line = 0; line < n; line++) most = Math.max(most, this.squares[rung * n + line]!);
      this.amps2[rung] = most / sliceSteps;
    }
    this.squares.fill(0);
    this.source.slice(this.sourceWattSteps / sliceSteps, this.amps2[panel]!);
    this.sourceWattSteps = 0;
    for (const other of this.others) this.lookAt(other, nowS);
    if (this.breaker?.slice(this.amps2[outlet]!, this.peakAmps)) this.breakerMoved(nowS);
    this.peakAmps = 0;
    while (this.eventsLeft.length > 0 && this.eventsLeft[0]!.atS <= nowS) this.happens(nowS);
    this.wiring.slice(this.amps2);
    this.ladder.refold();
    this.machine.slice(nowS);
    if (this.arc.burning && !this.machine.ready) this.arcLost(nowS);
    if (this.slices % lookSlices === 0) this.lookAtSupply();
  }

  private lookAt(other: Other, nowS: number): void {
    const was = other.on;
    other.slice(nowS);
    if (was === other.on) return;
    const kind = `other-load-${other.name}`;
    if (other.on) this.happenings.begins(kind, nowS, `${other.name} switched on`);
    else this.happenings.ends(kind, nowS);
  }

  private happens(nowS: number): void {
    const event = this.eventsLeft.shift()!;
    if (event.kind === 'phase-lost') {
      this.wiring.loseLine(event.phase - 1);
      this.happenings.begins('lost-phase', nowS, `phase ${event.phase} is lost`);
    } else {
      this.wiring.openNeutral(event.ohms);
      this.happenings.begins('open-neutral', nowS, `${event.ohms} ohm in the neutral`);
    }
  }

  private breakerMoved(nowS: number): void {
    if (this.breaker?.open) this.happenings.begins('breaker-open', nowS, 'the breaker tripped');
    else this.happenings.ends('breaker-open', nowS);
  }

  private triggerMoved(nowS: number): void {
    if (!this.welder.trigger) this.stopArc(nowS);
    else if (this.machine.ready) {
      this.machine.set(this.welder.amps);
      this.arc.strike();
      this.struckS = nowS;
      this.happenings.arcBegins(nowS, this.wattSteps);
    } else {
      this.welder.lost();
      this.happenings.lasted('no-strike', nowS, nowS, 'the machine would not feed an arc');
    }
  }

  private arcLost(nowS: number): void {
    if (nowS - this.struckS < strikeS) {
      const startS = this.happenings.arcFails();
      this.happenings.lasted('no-strike', startS, nowS, 'the supply gave way, the arc went out');
    } else this.happenings.lasted('arc-lost', nowS, nowS, 'the supply gave way under the arc');
    this.stopArc(nowS);
    this.welder.lost();
  }

  private stopArc(nowS: number): void {
    if (!this.arc.burning) return;
    this.arc.stop();
    this.happenings.arcEnds(nowS, this.wattSteps);
  }

  private lookAtSupply(): void {
    const { rms, hertz } = this.source;
    const seen = seenFrom(this.ladder, this.others, hertz, this.returns);
    this.looks.add(seen, rms, !this.arc.burning);
  }
}
