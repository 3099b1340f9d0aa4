import type { Matrix } from '../linear.ts';

/** A welding power source, solved at its terminals at every step. */
export interface WeldingMachine {
  /** Fills `drawn`, the amperes of each line, for volts behind ohms. */
  step(volts: Float64Array, ohms: Matrix, drawn: Float64Array): void;
  /** A slow look, once a slice. */
  slice(nowS: number): void;
  /** What the welder set for the next arc, A. */
  set(amps: number): void;
  /** Whether it would feed an arc now. Turns false when its supply gives way. */
  readonly ready: boolean;
}

/** What a one-port sees, and its answer. Passed whole: numbers passed singly are boxed. */
export class Terminals {
  volts = 0;
  ohms = 0;
  amps = 0;
}

/** A load between two lines, or a line and the return. */
export interface OnePort {
  /** Sets `amps`, into it, for volts behind ohms. */
  step(at: Terminals): void;
  slice(nowS: number): void;
  set(amps: number): void;
  readonly ready: boolean;
}

/** Hangs a one-port between lines. */
export class Connected implements WeldingMachine {
  private readonly port: OnePort;
  private readonly from: number;
  private readonly to: number;
  private readonly at = new Terminals();

  /** @param to −1 for the return. */
  constructor(port: OnePort, from: number, to: number) {
    this.port = port;
    this.from = from;
    this.to = to;
  }

  get ready(): boolean {
    return this.port.ready;
  }

  step(volts: Float64Array, ohms: Matrix, drawn: Float64Array): void {
    const n = volts.length;
    const { from, to } = this;
    let v = volts[from]!;
    let r = ohms[from * n + from]!;
    if (to >= 0) {
      v -= volts[to]!;
      r += ohms[to * n + to]! - ohms[from * n + to]! - ohms[to * n + from]!;
    }
    const { at } = this;
    at.volts = v;
    at.ohms = r;
    this.port.step(at);
    const { amps } = at;
    drawn[from] = amps;
    if (to >= 0) drawn[to] = -amps;
  }

  slice(nowS: number): void {
    this.port.slice(nowS);
  }

  set(amps: number): void {
    this.port.set(amps);
  }
}
