import type { RmsEvent, RmsEventSink } from '../metrology/rms-events.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { Sag } from '../protocol/judgement.ts';
import type { SagEvidence } from '../rules/facts.ts';
import type { Amperes, Hertz, SampleIndex } from '../units.ts';
import { StrikeLog } from './strike-log.ts';

/** Dips and interruptions as the judgement tells them: the first so many, and the worst of all. */
export class SagLog implements RmsEventSink {
  readonly kept: Sag[] = [];
  count = 0;
  readonly #rateHz: Hertz;
  readonly #keep: number;
  readonly #tell: (sag: Sag) => void;
  readonly #strikes: StrikeLog;
  #worst: SagEvidence['worst'] = null;
  #arcStart = Number.POSITIVE_INFINITY;
  #arcEnd = Number.NEGATIVE_INFINITY;

  constructor(rateHz: Hertz, keep: number, tell: (sag: Sag) => void) {
    this.#rateHz = rateHz;
    this.#keep = keep;
    this.#tell = tell;
    this.#strikes = new StrikeLog(rateHz);
  }

  /** `active`: a dip lasts. */
  halfCycle(row: HalfCycleRow, active: boolean, idle: Amperes): void {
    if (active) this.#strikes.during(row, idle);
  }

  arcBegan(start: SampleIndex): void {
    this.#arcStart = start;
    this.#arcEnd = Number.POSITIVE_INFINITY;
    this.#strikes.arcBegan(start);
  }

  arcEnded(end: SampleIndex): void {
    this.#arcEnd = end;
  }

  /** An interruption is a dip too, and is told as that one: once. */
  ended(event: RmsEvent): void {
    if (event.kind !== 'dip') return;
    this.count += 1;
    const sag: Sag = {
      startS: event.start / this.#rateHz,
      durationS: event.seconds,
      residualVolts: event.volts,
      depthPercent: 100 * event.depth,
      category: event.category,
      channel: event.extremeChannel + 1,
    };
    if (this.kept.length < this.#keep) this.kept.push(sag);
    const duringArc = event.end > this.#arcStart && event.start < this.#arcEnd;
    this.#strikes.dipEnded(event, duringArc);
    const part = sag.residualVolts / event.reference;
    if (this.#worst === null || part < this.#worst.residualVolts / this.#worst.referenceVolts)
      this.#worst = { ...sag, referenceVolts: event.reference, duringArc };
    this.#tell(sag);
  }

  evidence(): SagEvidence {
    return { count: this.count, worst: this.#worst, strikes: this.#strikes.evidence() };
  }
}
