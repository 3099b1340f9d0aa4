import type { Random } from './random.ts';

/** A slow random walk that is drawn back to zero (first-order autoregression). */
export class Wander {
  value: number;
  private readonly keep: number;
  private readonly kick: number;
  private readonly random: Random;

  /** @param deviation in the long run; `tauS` how long it remembers; `stepS` between `next()`s. */
  constructor(random: Random, deviation: number, tauS: number, stepS: number) {
    this.random = random;
    this.keep = Math.exp(-stepS / tauS);
    this.kick = deviation * Math.sqrt(1 - this.keep * this.keep);
    this.value = deviation * random.normal();
  }

  next(): number {
    this.value = this.value * this.keep + this.kick * this.random.normal();
    return this.value;
  }
}
