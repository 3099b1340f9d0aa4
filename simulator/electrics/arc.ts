import { stepS, steps } from './clockwork.ts';
import type { Random } from './random.ts';
import type { Work } from './scenario.ts';

/** Output current and voltage settle through the machine's choke and the lead. */
const outputTauS = 0.0006;
/** The hot start decays within a few hundredths of a second (low to medium, from memory). */
const hotStart = 0.4;
const hotTauS = 0.025;
/** IEC 60974-1, 11.2: conventional load voltage of MIG, V and V/A. */
export const arcVolts = 14;
export const arcOhms = 0.05;
export const loadVolts = (amps: number): number => arcVolts + arcOhms * amps;

/** Share of the mean power while the metal bridges, and how long it does. */
const shortShare = 0.55;
const shortS: readonly [number, number] = [0.0018, 0.0042];
const pulses = { pulse: { peak: 2.3, part: 0.3 }, braze: { peak: 1.9, part: 0.35 } } as const;

/**
 * The arc as a load: its power goes up and down about its mean of one with each short circuit or
 * pulse, wanders with the welder's hand, and begins hot.
 */
export class Arc {
  burning = false;
  /** Power over its mean set value, as the machine's output stage feels it. */
  share = 0;
  /** True while the drop bridges wire and pool. */
  shorted = false;
  private readonly random: Random;
  private readonly process: Work['process'];
  private readonly perS: readonly [number, number];
  private readonly settle = 1 - Math.exp(-stepS / outputTauS);
  private readonly cool = Math.exp(-stepS / hotTauS);
  private aim = 0;
  private hot = 0;
  private hand = 1;
  private left = 0;
  private rest = 0;
  private restShare = 1;

  constructor(work: Work, random: Random) {
    this.random = random;
    this.process = work.process;
    this.perS = work.perS;
  }

  strike(): void {
    this.burning = true;
    this.hot = hotStart;
    this.left = 0;
    this.rest = 0;
  }

  stop(): void {
    this.burning = false;
    this.shorted = false;
    this.aim = 0;
    this.hot = 0;
  }

  step(): void {
    if (this.burning) {
      if (--this.left <= 0) this.turn();
      this.hot *= this.cool;
    }
    this.share += (this.aim * (1 + this.hot) - this.share) * this.settle;
  }

  /** From short to arc or from pulse to background, and back. */
  private turn(): void {
    if (this.rest > 0) {
      this.left = this.rest;
      this.rest = 0;
      this.shorted = false;
      this.aim = this.restShare * this.hand;
      return;
    }
    const period = steps(1 / this.random.between(this.perS[0], this.perS[1]));
    this.hand += 0.06 * (1 - this.hand) + 0.012 * this.random.normal();
    let share = shortShare;
    let first = steps(this.random.between(shortS[0], shortS[1]));
    if (this.process !== 'short-circuit') {
      const { peak, part } = pulses[this.process];
      share = peak;
      first = Math.round(period * part);
    }
    first = Math.min(first, period - 1);
    this.shorted = this.process === 'short-circuit';
    this.left = first;
    this.rest = period - first;
    this.restShare = (period - share * first) / this.rest;
    this.aim = share * this.hand;
  }
}
