import { stepS, stepsPerSecond } from '../../simulator/electrics/clockwork.ts';
import { Ladder, panel, rungs } from '../../simulator/electrics/ladder.ts';
import type { OnePort, Terminals } from '../../simulator/electrics/machines/machine.ts';
import { Connected } from '../../simulator/electrics/machines/machine.ts';
import type { Branch } from '../../simulator/electrics/neighbour.ts';

/** A one-line ladder on a pure 60 Hz sine: what hand calculations are about. */
export interface Bench {
  rms: number;
  /** Whole loop, all in the first section. */
  ohms: number;
  /** At 60 Hz. */
  ohmsX?: number;
  shunts?: Branch[];
  port: OnePort;
  seconds?: number;
}

export interface Reading {
  /** At the machine's terminals, the last six whole cycles. */
  volts: number;
  amps: number;
  watts: number;
  powerFactor: number;
}

export function read({ rms, ohms, ohmsX = 0, shunts = [], port, seconds = 1 }: Bench): Reading {
  const ladder = new Ladder(1, shunts);
  ladder.ohms[panel] = ohms;
  ladder.henries[panel] = ohmsX / (2 * Math.PI * 60);
  ladder.refold();
  const machine = new Connected(port, 0, -1);
  const emf = new Float64Array(1);
  const until = Math.round(seconds * stepsPerSecond);
  const window = Math.round((6 / 60) * stepsPerSecond);
  let volts = 0;
  let amps = 0;
  let watts = 0;
  for (let step = 1; step <= until; step++) {
    if (step % 128 === 1) machine.slice(step * stepS);
    emf[0] = Math.SQRT2 * rms * Math.sin(2 * Math.PI * 60 * step * stepS);
    ladder.fold(emf);
    machine.step(ladder.seenVolts, ladder.seenOhms, ladder.drawn);
    ladder.unfold();
    if (step <= until - window) continue;
    const v = ladder.volts[rungs - 1]!;
    const i = ladder.drawn[0]!;
    volts += v * v;
    amps += i * i;
    watts += v * i;
  }
  volts = Math.sqrt(volts / window);
  amps = Math.sqrt(amps / window);
  watts /= window;
  return { volts, amps, watts, powerFactor: watts / volts / amps };
}

/** Resistance and reactance in series, as a machine would hang there. */
export class Impedance implements OnePort {
  readonly ready = true;
  private readonly ohms: number;
  private readonly henries: number;
  private amps1 = 0;
  private amps2 = 0;

  constructor(ohms: number, ohmsX: number) {
    this.ohms = ohms;
    this.henries = ohmsX / (2 * Math.PI * 60);
  }

  step(at: Terminals): void {
    const past = (this.henries / stepS) * (0.5 * this.amps2 - 2 * this.amps1);
    at.amps = (at.volts - past) / (at.ohms + this.ohms + (1.5 * this.henries) / stepS);
    this.amps2 = this.amps1;
    this.amps1 = at.amps;
  }
  slice(): void {}
  set(): void {}
}
