import { sliceS, stepS } from './clockwork.ts';
import { outlet, panel, type Shunt } from './ladder.ts';
import type { Random } from './random.ts';
import type { Neighbour } from './scenario.ts';

/** A load that someone else switches: resistance, or resistance and inductance in series. */
export class Branch implements Shunt {
  readonly rung: number;
  readonly from: number;
  readonly to: number;
  siemens = 0;
  amps = 0;
  ohms = Number.POSITIVE_INFINITY;
  henries = 0;
  private kick = 0;
  private amps1 = 0;
  private amps2 = 0;

  constructor(rung: number, from: number, to: number) {
    this.rung = rung;
    this.from = from;
    this.to = to;
  }

  /** Infinite ohms switch it off; its current, small beside the circuit's, is chopped. */
  set(ohms: number, henries: number): void {
    this.ohms = ohms;
    this.henries = henries;
    this.siemens = 1 / (ohms + (1.5 * henries) / stepS);
    this.kick = henries / stepS;
    if (ohms === Number.POSITIVE_INFINITY) {
      this.amps = 0;
      this.amps1 = 0;
      this.amps2 = 0;
    }
  }

  settle(volts: number): void {
    if (this.kick === 0) return;
    const now = this.siemens * volts + this.amps;
    this.amps2 = this.amps1;
    this.amps1 = now;
    this.amps = -this.siemens * this.kick * (0.5 * this.amps2 - 2 * this.amps1);
  }
}

/** Someone else's machine on the same wires, switched by its own clock. */
export class Other {
  readonly branches: Branch[];
  /** Whether it draws now, and since when it started, s. */
  on = false;
  sinceS = 0;
  readonly name: string;
  private readonly spec: Neighbour;
  private readonly random: Random;
  private readonly ohms: number;
  private readonly henries: number;
  private nextS: number;

  /** @param lineVolts nominal of one line; `lines` how many the circuit has. */
  constructor(spec: Neighbour, lineVolts: number, lines: number, hertz: number, random: Random) {
    this.name = spec.name;
    this.spec = spec;
    this.random = random;
    const rung = spec.at === 'panel' ? panel : outlet;
    const [first, second] = spec.lines;
    this.branches =
      first === undefined
        ? Array.from({ length: lines }, (_, line) => new Branch(rung, line, -1))
        : [new Branch(rung, first - 1, second === undefined ? -1 : second - 1)];
    const between = second === undefined ? 1 : lines === 2 ? 2 : Math.sqrt(3);
    const watts = spec.watts / this.branches.length;
    const factor = spec.kind === 'motor' ? spec.powerFactor : 1;
    const impedance = ((lineVolts * between) ** 2 * factor) / watts;
    this.ohms = impedance * factor;
    const reactance = impedance * Math.sqrt(1 - factor * factor);
    this.henries = reactance / (2 * Math.PI * hertz);
    this.nextS = spec.firstOnS;
    for (const branch of this.branches) branch.set(Number.POSITIVE_INFINITY, 0);
  }

  /** A slow look. @returns whether its siemens changed. */
  slice(nowS: number): boolean {
    const { onS, offS } = this.spec;
    if (nowS >= this.nextS) {
      this.on = !this.on;
      this.sinceS = nowS;
      const span = this.on ? onS : offS;
      this.nextS = span ? nowS + this.random.between(span[0], span[1]) : Number.POSITIVE_INFINITY;
      this.apply(nowS);
      return true;
    }
    const starting = this.spec.kind === 'motor' && nowS - this.sinceS <= this.spec.startS + sliceS;
    if (!this.on || !starting) return false;
    this.apply(nowS);
    return true;
  }

  /**
   * A starting motor is its locked rotor until near full speed and then falls to its running
   * impedance: the ohms grow with the cube of the time in the start.
   */
  private apply(nowS: number): void {
    let ohms = this.on ? this.ohms : Number.POSITIVE_INFINITY;
    let henries = this.on ? this.henries : 0;
    if (this.on && this.spec.kind === 'motor') {
      const { startMultiple, startS } = this.spec;
      const share = Math.min(1, (nowS - this.sinceS) / startS) ** 3;
      const locked = 1 / startMultiple;
      ohms *= locked + (1 - locked) * share;
      henries *= locked + (1 - locked) * share;
    }
    for (const branch of this.branches) branch.set(ohms, henries);
  }
}
