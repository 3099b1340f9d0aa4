import type { RmsEvent } from '../metrology/rms-events.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { SagEvidence, Setting, Strike } from '../rules/facts.ts';
import type { Amperes, Hertz, SampleIndex, Seconds } from '../units.ts';

/** Least surge over idle that is somebody trying to weld: common practice, no source. */
const leastSurge: Amperes = 4;
/** An arc that began this soon after a dip's end was struck by it. */
const strikesWithin: Seconds = 0.2;

type Hung = Pick<Setting, 'loops' | 'ampsPerLine'>;

/** Dips that came with a surge of own current and were followed by no arc. */
export class StrikeLog {
  readonly #rateHz: Hertz;
  #count = 0;
  #worst: SagEvidence['strikes']['worst'] = null;
  /** The dip that lasts: its hardest half cycle. */
  #now: Strike | null = null;
  /** The newest dip that ended: counted when it is clear that no arc came of it. */
  #pending: (Strike & { atS: Seconds; end: SampleIndex }) | null = null;

  constructor(rateHz: Hertz) {
    this.#rateHz = rateHz;
  }

  /**
   * A half cycle of a dip, on each loop of the machine: what it had between its terminals. Idle
   * current and surge are of a line.
   */
  during(row: HalfCycleRow, { loops, ampsPerLine }: Hung, idle: Amperes): void {
    for (let n = 0; n < loops.length; n++) {
      const loop = loops[n]!;
      const amps = row.irms[loop]!;
      const volts = row.urms[loop]!;
      if (amps < (idle + leastSurge) * ampsPerLine) continue;
      if (this.#now !== null && volts >= this.#now.minVoltsHalfCycle) continue;
      this.#now = { minVoltsHalfCycle: volts, amps, watts: row.watts[loop]! };
    }
  }

  dipEnded(event: RmsEvent, duringArc: boolean): void {
    this.#settle();
    const strike = this.#now;
    this.#now = null;
    if (strike === null || duringArc) return;
    this.#pending = { ...strike, atS: event.start / this.#rateHz, end: event.end };
  }

  arcBegan(start: SampleIndex): void {
    if (this.#pending !== null && start <= this.#pending.end + strikesWithin * this.#rateHz)
      this.#pending = null;
    this.#settle();
  }

  evidence(): SagEvidence['strikes'] {
    this.#settle();
    return { count: this.#count, worst: this.#worst };
  }

  #settle(): void {
    const pending = this.#pending;
    this.#pending = null;
    if (pending === null) return;
    this.#count += 1;
    if (this.#worst === null || pending.minVoltsHalfCycle < this.#worst.minVoltsHalfCycle)
      this.#worst = pending;
  }
}
