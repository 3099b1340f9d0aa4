import { linesBetween } from '../metrology/line-to-line.ts';
import type { RmsEvent, RmsEventKind, RmsEventSink } from '../metrology/rms-events.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { Sag, Swell } from '../protocol/judgement.ts';
import type { SagEvidence, Setting, SwellEvidence } from '../rules/facts.ts';
import type { Amperes, Hertz, SampleIndex } from '../units.ts';
import { StrikeLog } from './strike-log.ts';
import { SupplyLostLog } from './supply-lost.ts';

interface SagSetup {
  rateHz: Hertz;
  pairs: number;
  /** Sags, and swells, that are listed. */
  keep: number;
}

/**
 * Dips, interruptions and swells as the judgement tells them: the first so many, and the worst of
 * all.
 */
export class SagLog implements RmsEventSink {
  readonly kept: Sag[] = [];
  count = 0;
  readonly keptSwells: Swell[] = [];
  swellCount = 0;
  readonly #rateHz: Hertz;
  readonly #pairs: number;
  readonly #keep: number;
  readonly #tell: (sag: Sag) => void;
  readonly #strikes: StrikeLog;
  readonly #lost: SupplyLostLog;
  #worst: SagEvidence['worst'] = null;
  #worstSwell: SwellEvidence['worst'] = null;
  #arcStart = Number.POSITIVE_INFINITY;
  #arcEnd = Number.NEGATIVE_INFINITY;

  constructor(setup: SagSetup, tell: (sag: Sag) => void) {
    const { rateHz, pairs, keep } = setup;
    this.#rateHz = rateHz;
    this.#pairs = pairs;
    this.#keep = keep;
    this.#tell = tell;
    this.#strikes = new StrikeLog(rateHz);
    this.#lost = new SupplyLostLog(rateHz, pairs);
  }

  /** `active`: a dip lasts. `idle` is the current of a line. */
  halfCycle(
    row: HalfCycleRow,
    active: boolean,
    at: Pick<Setting, 'loops' | 'ampsPerLine'>,
    idle: Amperes,
  ): void {
    if (active) this.#strikes.during(row, at, idle);
    this.#lost.halfCycle(row, idle);
  }

  began(kind: RmsEventKind, start: SampleIndex): void {
    if (kind === 'interruption') this.#lost.interrupted(start);
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
    if (event.kind === 'swell') this.#swellEnded(event);
    if (event.kind === 'dip') this.#dipEnded(event);
  }

  #dipEnded(event: RmsEvent): void {
    this.count += 1;
    const sag: Sag = {
      startS: event.start / this.#rateHz,
      durationS: event.seconds,
      residualVolts: event.volts,
      depthPercent: 100 * event.depth,
      category: event.category,
      ...this.#placeOf(event.extremeChannel),
    };
    if (this.kept.length < this.#keep) this.kept.push(sag);
    const duringArc = this.#inArc(event);
    this.#strikes.dipEnded(event, duringArc);
    const part = sag.residualVolts / event.reference;
    if (this.#worst === null || part < this.#worst.residualVolts / this.#worst.referenceVolts)
      this.#worst = { ...sag, referenceVolts: event.reference, duringArc };
    this.#tell(sag);
  }

  #swellEnded(event: RmsEvent): void {
    this.swellCount += 1;
    const swell: Swell = {
      startS: event.start / this.#rateHz,
      durationS: event.seconds,
      highestVolts: event.volts,
      percentOver: -100 * event.depth,
      category: event.category,
      ...this.#placeOf(event.extremeChannel),
    };
    if (this.keptSwells.length < this.#keep) this.keptSwells.push(swell);
    const part = swell.highestVolts / event.reference;
    if (this.#worstSwell && part <= this.#worstSwell.highestVolts / this.#worstSwell.referenceVolts)
      return;
    const duringArc = this.#inArc(event);
    this.#worstSwell = { ...swell, referenceVolts: event.reference, duringArc };
  }

  /** The newest arc, or the one that burns. */
  #inArc({ start, end }: RmsEvent): boolean {
    return end > this.#arcStart && start < this.#arcEnd;
  }

  #placeOf(entry: number): Pick<Sag, 'channel' | 'between'> {
    if (entry < this.#pairs) return { channel: entry + 1 };
    const [one, other] = linesBetween[this.#pairs]![entry - this.#pairs]!;
    return { channel: one + 1, between: [one + 1, other + 1] };
  }

  evidence(): SagEvidence {
    return {
      count: this.count,
      worst: this.#worst,
      strikes: this.#strikes.evidence(),
      lost: this.#lost.evidence(),
      swells: { count: this.swellCount, worst: this.#worstSwell },
    };
  }
}
