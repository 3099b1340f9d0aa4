import { stepS, steps } from './clockwork.ts';
import type { Random } from './random.ts';
import type { Work } from './scenario.ts';

/** Pulls of the trigger after an arc that went out, before the welder stops to think. */
const retries = 3;

/** The person at work: beads, rows of tacks, and pauses; tries again when the arc goes out. */
export class Welder {
  trigger = false;
  /** Current set at the machine for this arc, A. */
  amps: number;
  private readonly work: Work;
  private readonly random: Random;
  private left: number;
  private tacksLeft = 0;
  private failed = 0;
  private begun = false;
  private taken = 0;

  constructor(work: Work, random: Random) {
    this.work = work;
    this.random = random;
    this.amps = work.settings[0]!.amps;
    // The hand is no clock: first arcs differ by up to 0.3 s from seed to seed.
    this.left = steps(work.firstArcS + random.between(0, 0.3));
  }

  /** @returns whether the trigger moved. */
  step(): boolean {
    this.taken += 1;
    if (--this.left > 0) return false;
    if (this.trigger) this.release();
    else this.pull(this.taken * stepS);
    return true;
  }

  /** The arc went out, or would not strike. */
  lost(): void {
    this.trigger = false;
    this.failed += 1;
    if (this.failed >= retries) {
      this.failed = 0;
      this.tacksLeft = 0;
      this.left = this.span(this.work.pauseS);
    } else this.left = this.span([0.9, 1.6]);
  }

  private pull(nowS: number): void {
    for (const { fromS, amps } of this.work.settings) if (nowS >= fromS) this.amps = amps;
    this.trigger = true;
    const { first, beadShare } = this.work;
    const tacks = this.random.unit() >= beadShare;
    const begun = this.begun || first === 'any';
    this.begun = true;
    if (this.tacksLeft === 0 && (begun ? tacks : first === 'tacks')) {
      this.tacksLeft = this.random.whole(this.work.tacks[0], this.work.tacks[1]);
    }
    this.left = this.span(this.tacksLeft > 0 ? this.work.tackS : this.work.beadS);
  }

  private release(): void {
    this.trigger = false;
    this.failed = 0;
    if (this.tacksLeft > 0) this.tacksLeft -= 1;
    this.left = this.span(this.tacksLeft > 0 ? this.work.tackGapS : this.work.pauseS);
  }

  private span(range: readonly [number, number]): number {
    return steps(this.random.between(range[0], range[1]));
  }
}
