import type { ConnectionChange } from '../metrology/connection.ts';
import { CycleRing } from '../metrology/cycle-ring.ts';
import { GeneratorWatch } from '../metrology/generator-watch.ts';
import { linesOf, rowWidth } from '../metrology/line-to-line.ts';
import { type Behaviour, MachineBehaviour } from '../metrology/machine-behaviour.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import { studentFactor95 } from '../metrology/student.ts';
import type { OtherLoadEvent, SupplyEstimate } from '../metrology/supply-estimate.ts';
import { SupplyEstimator } from '../metrology/supply-estimator.ts';
import { type SensorClass, throughSensor } from '../metrology/uncertainty.ts';
import type { OtherLoad, Supply } from '../protocol/judgement.ts';
import type {
  ConnectionEvidence,
  OtherLoadEvidence,
  SupplyEvidence,
  SupplyView,
} from '../rules/facts.ts';
import type { Hertz, SampleIndex, Seconds } from '../units.ts';
import { assumedSensor } from './accuracy.ts';
import { othersOf } from './others.ts';

/** Steps of voltage further back than this are of another weld. */
const otherLoadLooksBack: Seconds = 30;
/** Solving costs as much as a second of samples: while an arc burns once a second is enough. */
const estimateSeconds: Seconds = 1;

/** An estimator and a machine's behaviour for every entry of a row: pairs, and between them. */
export class Supplies {
  readonly #rateHz: Hertz;
  readonly #pairs: number;
  readonly #estimators: SupplyEstimator[];
  readonly #machines: MachineBehaviour[];
  /** The latest cycles of each pair, which both look at. */
  readonly #rings: CycleRing[];
  readonly #generator: GeneratorWatch;
  readonly #sensor: SensorClass | null;
  /** Other loads of each pair that were told. */
  readonly #toldLoads: Float64Array;
  readonly #tell: (event: OtherLoad, at: SampleIndex) => void;
  #solved: (SupplyEstimate | null)[] | null = null;
  #solvedAt: SampleIndex = 0;
  #at: SampleIndex = 0;

  constructor(
    setup: { rateHz: Hertz; pairs: number; nominalHertz: 50 | 60 },
    sensor: SensorClass | null,
    tell: (event: OtherLoad, at: SampleIndex) => void = () => {},
  ) {
    this.#rateHz = setup.rateHz;
    this.#sensor = sensor;
    this.#tell = tell;
    const width = rowWidth(setup.pairs);
    this.#pairs = setup.pairs;
    this.#toldLoads = new Float64Array(setup.pairs);
    const pairs = Array.from({ length: width }, (_, pair) => pair);
    this.#rings = pairs.map(() => new CycleRing());
    this.#generator = new GeneratorWatch(this.#rings, setup.rateHz);
    const of = (pair: number) => ({ ...setup, pairs: width, pair, ring: this.#rings[pair]! });
    this.#estimators = pairs.map((pair) => new SupplyEstimator(of(pair)));
    this.#machines = pairs.map((pair) => new MachineBehaviour(of(pair)));
  }

  halfCycle(row: HalfCycleRow): void {
    this.#at = row.end;
    let joined = false;
    for (let pair = 0; pair < this.#estimators.length; pair++) {
      if (!this.#rings[pair]!.push(row, pair)) continue;
      joined ||= pair === 0;
      const estimator = this.#estimators[pair]!;
      estimator.cycle();
      this.#machines[pair]!.cycle();
      // What lies between two pairs saw what they saw.
      if (pair < this.#pairs && estimator.otherLoads > this.#toldLoads[pair]!)
        this.#tellLoads(estimator, pair);
    }
    if (joined) this.#generator.cycle();
  }

  arcBegan(at: SampleIndex): void {
    for (const meter of [...this.#estimators, ...this.#machines]) meter.arcBegan(at);
    this.#generator.arcBegan(at);
    this.#solved = null;
  }

  arcEnded(at: SampleIndex): void {
    for (const meter of [...this.#estimators, ...this.#machines]) meter.arcEnded(at);
    this.#generator.arcEnded(at);
    this.#solved = null;
    const estimates = this.estimates();
    this.#machines.forEach((machine, pair) => {
      machine.supply(estimates[pair] ?? null);
    });
  }

  skip(frames: number): void {
    for (const meter of [...this.#estimators, ...this.#machines]) meter.skip(frames);
    this.#generator.skip();
    this.#solved = null;
  }

  /** One entry of a row each, at most a second old; new after an arc began or ended. */
  estimates(): readonly (SupplyEstimate | null)[] {
    const old = this.#at - this.#solvedAt > estimateSeconds * this.#rateHz;
    if (this.#solved !== null && !old) return this.#solved;
    this.#solvedAt = this.#at;
    const solved = this.#estimators.map((estimator) => sound(estimator.estimate()));
    // An engine set is no constant source, whatever its edges look like.
    this.#solved = this.#generator.figures() === null ? solved : solved.map(() => null);
    return this.#solved;
  }

  /** The loop whose fit says most speaks for the machine. */
  behaviour(loops: readonly number[]): Behaviour {
    const fits = loops.map((loop) => this.#machines[loop]!.fit());
    return fits.find((fit) => fit.behaviour !== 'unknown')?.behaviour ?? 'unknown';
  }

  /** What a rule foretells from it carries the sensor's errors too. */
  evidence(loops: readonly number[]): SupplyEvidence {
    const sensor = this.#sensor ?? assumedSensor;
    const estimates = this.estimates();
    const pairs = loops
      .map((loop) => estimates[loop]!)
      .map((each) => each && viewOf(throughSensor(each, sensor)));
    const estimators = loops.map((loop) => this.#estimators[loop]!);
    const generator = this.#generator.figures();
    const refusal = generator === null ? null : ({ code: 'generator', params: {} } as const);
    return {
      pairs,
      behaviour: this.behaviour(loops),
      refused: estimators.map((each) => refusal ?? each.refusal),
      measured: estimators.map((each) => each.measured),
      connection: generator === null ? this.#connection(estimators) : null,
      generator: generator && {
        ...generator,
        settled: generator.settled && loops.map((loop) => generator.settled![loop]!),
      },
    };
  }

  /** Of the loop that gained most. */
  #connection(estimators: readonly SupplyEstimator[]): ConnectionEvidence | null {
    const added = (change: ConnectionChange) => change.ohmsAfter - change.ohmsBefore;
    const changes = estimators.map((each) => each.connection).filter((each) => each !== null);
    const [worst] = changes.sort((a, b) => added(b) - added(a));
    if (!worst) return null;
    const { kind, ohmsBefore, ohmsAfter, addedSd, amps, since, edges } = worst;
    const half = studentFactor95(Math.max(2, edges)) * addedSd;
    return {
      kind,
      ohmsBefore,
      ohmsAfter,
      added95: [added(worst) - half, added(worst) + half],
      amps,
      sinceS: since / this.#rateHz,
      confirmed: edges > 1,
    };
  }

  /** The stream's end: what came since the last estimate counts too, and what was held back. */
  end(): void {
    this.#solved = null;
    this.#estimators.forEach((estimator, pair) => {
      estimator.end();
      if (pair < this.#pairs && estimator.otherLoads > this.#toldLoads[pair]!)
        this.#tellLoads(estimator, pair);
    });
  }

  /** As the judgement tells it, one entry a measured pair, with the sensor's errors in it. */
  told(): (Supply | null)[] {
    const ofPairs = this.estimates().slice(0, this.#pairs);
    return ofPairs.map((estimate) => {
      if (estimate === null) return null;
      // Who states no class is taken for class S, as the rules do: an interval that leaves the
      // sensor out would promise more than a shop's sensor can keep.
      const told = throughSensor(estimate, this.#sensor ?? assumedSensor);
      const { openVolts, ohmsR, ohmsX, ohmsR95, ohmsX95, steps } = told;
      return { openVolts, ohmsR, ohmsX, ohmsR95, ohmsX95, steps };
    });
  }

  /**
   * Steps that own current does not explain, since half a minute before `from`, on the lines that
   * the machine's loops are made of.
   */
  others(from: SampleIndex, loops: readonly number[]): OtherLoadEvidence {
    const since = from - otherLoadLooksBack * this.#rateHz;
    const estimates = this.estimates();
    const lines = linesOf(loops, this.#pairs);
    const pairs = lines.map((pair) => ({
      events: this.#estimators[pair]!.otherLoad(),
      estimate: estimates[pair] ?? null,
    }));
    return othersOf(pairs, this.#rateHz, since);
  }

  #tellLoads(estimator: SupplyEstimator, pair: number): void {
    const fresh = estimator.otherLoads - this.#toldLoads[pair]!;
    this.#toldLoads[pair] = estimator.otherLoads;
    // Asked past the second's memory: what is judged must not hang on who listens.
    const estimate = sound(estimator.estimate());
    for (const event of estimator.newestLoads(fresh)) {
      const inAmps = this.#inAmps(event, estimate);
      this.#tell(
        {
          atS: event.at / this.#rateHz,
          channel: pair + 1,
          volts: event.volts,
          halfWidthVolts: event.halfWidthVolts,
          amps: inAmps?.amps ?? null,
          halfWidthAmps: inAmps?.halfWidthAmps ?? null,
          duringArc: event.duringArc,
        },
        event.at,
      );
    }
  }

  #inAmps(event: OtherLoadEvent, estimate: SupplyEstimate | null) {
    if (estimate === null) return null;
    const ohms = Math.hypot(estimate.ohmsR, estimate.ohmsX);
    const size = Math.abs(event.volts);
    return { amps: size / ohms, halfWidthAmps: event.halfWidthVolts / ohms };
  }
}

/** A forecast stands on the open-circuit voltage that the arcs had, not on what it is now. */
function viewOf(estimate: SupplyEstimate): SupplyView {
  const { arcOpenVolts, arcOpenSd, arcOpenLowVolts } = estimate;
  return {
    ...estimate,
    openVolts: arcOpenVolts,
    openVoltsSd: arcOpenSd,
    openVoltsLow: arcOpenLowVolts,
  };
}

/** An open-circuit voltage taken over windows without any fundamental is no number. */
function sound(estimate: SupplyEstimate | null): SupplyEstimate | null {
  if (estimate === null) return null;
  const { openVolts, openVoltsSd, ohmsR, ohmsX, lagRadians, fundamentalShare } = estimate;
  const sum = openVolts + openVoltsSd + ohmsR + ohmsX + lagRadians + fundamentalShare;
  return Number.isFinite(sum) ? estimate : null;
}
