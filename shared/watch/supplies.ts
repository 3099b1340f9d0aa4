import { type Behaviour, MachineBehaviour } from '../metrology/machine-behaviour.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { OtherLoadEvent, SupplyEstimate } from '../metrology/supply-estimate.ts';
import { SupplyEstimator } from '../metrology/supply-estimator.ts';
import type { Supply } from '../protocol/judgement.ts';
import type { OtherLoadEvidence, SupplyEvidence } from '../rules/facts.ts';
import type { Hertz, SampleIndex, Seconds } from '../units.ts';

/** Steps of voltage further back than this are of another weld. */
const otherLoadLooksBack: Seconds = 30;

/** An estimator and a machine's behaviour for every pair of a stream. */
export class Supplies {
  readonly #rateHz: Hertz;
  readonly #estimators: SupplyEstimator[];
  readonly #machines: MachineBehaviour[];

  constructor(setup: { rateHz: Hertz; pairs: number; nominalHertz: 50 | 60 }) {
    this.#rateHz = setup.rateHz;
    const pairs = Array.from({ length: setup.pairs }, (_, pair) => pair);
    this.#estimators = pairs.map((pair) => new SupplyEstimator({ ...setup, pair }));
    this.#machines = pairs.map((pair) => new MachineBehaviour({ ...setup, pair }));
  }

  halfCycle(row: HalfCycleRow): void {
    for (let pair = 0; pair < this.#estimators.length; pair++) {
      this.#estimators[pair]!.halfCycle(row);
      this.#machines[pair]!.halfCycle(row);
    }
  }

  arcBegan(at: SampleIndex): void {
    for (const meter of [...this.#estimators, ...this.#machines]) meter.arcBegan(at);
  }

  arcEnded(at: SampleIndex): void {
    for (const meter of [...this.#estimators, ...this.#machines]) meter.arcEnded(at);
    this.#machines.forEach((machine, pair) => {
      machine.supply(this.#estimators[pair]!.estimate());
    });
  }

  skip(frames: number): void {
    for (const meter of [...this.#estimators, ...this.#machines]) meter.skip(frames);
  }

  /** The pair whose fit says most speaks for the machine. */
  behaviour(): Behaviour {
    const fits = this.#machines.map((machine) => machine.fit());
    return fits.find((fit) => fit.behaviour !== 'unknown')?.behaviour ?? 'unknown';
  }

  evidence(): SupplyEvidence {
    const pairs = this.#estimators.map((estimator) => estimator.estimate());
    return { pairs, behaviour: this.behaviour() };
  }

  /** As the judgement tells it. */
  told(): (Supply | null)[] {
    return this.#estimators.map((estimator) => {
      const estimate = estimator.estimate();
      if (estimate === null) return null;
      const { openVolts, ohmsR, ohmsX, ohmsR95, ohmsX95, steps } = estimate;
      return { openVolts, ohmsR, ohmsX, ohmsR95, ohmsX95, steps };
    });
  }

  /** Steps that own current does not explain, since half a minute before `from`. */
  others(from: SampleIndex): OtherLoadEvidence {
    const since = from - otherLoadLooksBack * this.#rateHz;
    const estimates = this.#estimators.map((estimator) => estimator.estimate());
    const seen = this.#estimators.flatMap((estimator, pair) =>
      estimator
        .otherLoad()
        .filter((event) => event.at >= since)
        .map((event) => this.#inAmps(event, estimates[pair] ?? null))
        .filter((each) => each !== null),
    );
    const worst = seen.reduce<(typeof seen)[number] | null>(
      (most, each) => (most === null || each.amps > most.amps ? each : most),
      null,
    );
    return { count: seen.length, worst, searched: estimates.every((each) => each !== null) };
  }

  #inAmps(event: OtherLoadEvent, estimate: SupplyEstimate | null) {
    if (estimate === null) return null;
    const ohms = Math.hypot(estimate.ohmsR, estimate.ohmsX);
    const size = Math.abs(event.volts);
    return {
      atS: event.at / this.#rateHz,
      volts: event.volts,
      amps: size / ohms,
      halfWidthAmps: event.halfWidthVolts / ohms,
    };
  }
}
