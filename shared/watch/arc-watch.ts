import { ArcFigures, type ArcMeasured } from '../metrology/arc-figures.ts';
import { rowWidth } from '../metrology/line-to-line.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { Arc, ArcChannel, Finding } from '../protocol/judgement.ts';
import { secondsAtLoad } from '../rules/evidence.ts';
import type { ArcEvidence, Setting, Strike } from '../rules/facts.ts';
import { type Evidence, judgeArc, worstOfArcs } from '../rules/judge.ts';
import { type ArcSeen, entriesOf, loopChannels } from '../rules/loops.ts';
import type { Hertz, SampleIndex, Seconds, Volts } from '../units.ts';
import type { WatchEvents, WatchedArc } from './contract.ts';
import type { ArcDistortion, Distortion } from './distortion.ts';
import type { SensorWatch } from './sensor-watch.ts';
import type { Supplies } from './supplies.ts';
import type { Surroundings } from './surroundings.ts';

/** A weak weld shows while it burns: this often the arc so far is judged. */
const provisionalSeconds = 0.2;

/** The lowest half cycle can only fall further: under the limit once is under it for good. */
const isFinal = ({ rule, verdict }: Finding) =>
  rule === 'strike-voltage' && verdict === 'underpowered';

/** What an arc is judged with beside its own figures. */
interface Around {
  setting: Setting;
  supplies: Supplies;
  distortion: Distortion;
  surroundings: Surroundings;
  sensor: SensorWatch;
  /** The setting as an arc's own currents tell it: where the machine hangs. */
  seen(arc: ArcSeen): Setting;
}

type Loaded = Pick<ArcEvidence, 'startS' | 'endS' | 'lostFraction' | 'loops'>;

/** Follows the arc that burns, judges it while it does and when it has ended. */
export class ArcWatch {
  /** The first so many arcs, how many there were in all, and the worst finding of each rule. */
  readonly kept: WatchedArc[] = [];
  count = 0;
  worst: Finding[] = [];
  /** Time at a load that can prove full load, by the row's entries, of arcs that are over. */
  readonly #loadedS: Float64Array;
  readonly #rateHz: Hertz;
  readonly #pairs: number;
  readonly #keep: number;
  readonly #figures: ArcFigures;
  readonly #around: Around;
  readonly #events: WatchEvents;
  #told: SampleIndex = 0;
  /** Lowest Urms(1/2) since the arc was seen while nothing of it was told; else −∞. */
  #lowest: Volts = Number.NEGATIVE_INFINITY;

  constructor(
    options: { rateHz: Hertz; pairs: number; keep: number },
    around: Around,
    events: WatchEvents,
  ) {
    this.#pairs = options.pairs;
    this.#loadedS = new Float64Array(rowWidth(options.pairs));
    this.#rateHz = options.rateHz;
    this.#keep = options.keep;
    this.#figures = new ArcFigures({ ...options, pairs: rowWidth(options.pairs) });
    this.#around = around;
    this.#events = events;
  }

  settle(setting: Setting): void {
    this.#around.setting = setting;
  }

  halfCycle(row: HalfCycleRow): void {
    this.#figures.halfCycle(row);
  }

  edge(row: HalfCycleRow): void {
    this.#figures.edge(row);
  }

  lost(frames: number): void {
    this.#figures.skip(frames);
  }

  /** Nothing comes for a while: `at` samples into the stream, gaps included. */
  rest(at: SampleIndex): void {
    this.#figures.rest(at);
  }

  began(start: SampleIndex): void {
    this.#told = start;
    this.#lowest = Number.POSITIVE_INFINITY;
    this.#figures.began(start);
    this.#around.supplies.arcBegan(start);
    this.#around.distortion.arcBegan(start);
    this.#around.sensor.arcBegan();
  }

  /** What is final before the first 200 ms are over is told at once. */
  goesOn(row: HalfCycleRow): void {
    if (!this.#events.arcGoesOn) return;
    const due = row.end - this.#told >= provisionalSeconds * this.#rateHz;
    if (!due && !this.#fell(row)) return;
    const measured = this.#figures.soFar();
    if (due) this.#told = row.end;
    if (measured === null) return;
    const watched = this.#judge(measured, this.#around.distortion.soFar());
    if (!due && !watched.arc.findings.some(isFinal)) return;
    this.#told = row.end;
    this.#lowest = Number.NEGATIVE_INFINITY;
    this.#events.arcGoesOn(watched);
  }

  /** A new lowest half cycle. */
  #fell(row: HalfCycleRow): boolean {
    let lowest = Number.POSITIVE_INFINITY;
    const { loops } = this.#around.setting;
    for (let n = 0; n < loops.length; n++) lowest = Math.min(lowest, row.urms[loops[n]!]!);
    if (lowest >= this.#lowest) return false;
    this.#lowest = lowest;
    return true;
  }

  ended(start: SampleIndex, end: SampleIndex): void {
    const { supplies, distortion, sensor } = this.#around;
    const measured = this.#figures.ended(start, end);
    supplies.arcEnded(end);
    const watched = this.#judge(measured, distortion.arcEnded(end));
    sensor.arcEnded();
    this.count += 1;
    this.#addLoad(watched.arc);
    if (this.kept.length < this.#keep) this.kept.push(watched);
    this.worst = worstOfArcs(this.worst, watched.arc.findings);
    this.#events.arcEnded?.(watched);
  }

  #judge(measured: ArcMeasured, distortion: readonly ArcDistortion[]): WatchedArc {
    const { start, end, lostFraction } = measured;
    const all = measured.pairs.map((entry, at) => channelOf(entry, distortion[at] ?? noDistortion));
    const channels = all.slice(0, this.#pairs);
    const between = all.slice(this.#pairs);
    const ofArc: ArcSeen = between.length > 0 ? { channels, between } : { channels };
    const setting = this.#around.seen(ofArc);
    const startS = start / this.#rateHz;
    const endS = end / this.#rateHz;
    const loops = loopChannels(setting, ofArc);
    const around = this.#evidence(start, { startS, endS, lostFraction, loops });
    const evidence: ArcEvidence = {
      startS,
      endS,
      lostFraction,
      channels,
      loops,
      strike: setting.loops.map((loop) => strikeOf(measured.pairs[loop]!)),
      settled: around.supply.generator?.settled ?? null,
    };
    const { verdict, findings } = judgeArc(setting, evidence, around);
    const durationS = endS - startS;
    const where = {
      ...(between.length > 0 && { loops: [...setting.loops] }),
      ...(setting.place && { place: setting.place }),
    };
    return {
      start,
      end,
      arc: { startS, endS, durationS, ...ofArc, ...where, lostFraction, verdict, findings },
      hangs: { loops: setting.loops, ampsPerLine: setting.ampsPerLine, service: setting.service },
      supply: around.supply,
      estimates: this.#around.supplies.told(),
    };
  }

  /** Seconds at load of each loop, those of an arc that is not over beside them. */
  loaded(setting: Setting, arc: Loaded | null): Seconds[] {
    return setting.loops.map((loop, at) => {
      const so = this.#loadedS[loop]!;
      return arc === null ? so : so + secondsAtLoad(setting, arc, arc.loops[at]?.meanAmps ?? 0);
    });
  }

  #addLoad(arc: Arc): void {
    const { setting } = this.#around;
    for (const [at, { meanAmps }] of entriesOf(arc).entries())
      this.#loadedS[at] = this.#loadedS[at]! + secondsAtLoad(setting, arc, meanAmps);
  }

  #evidence(start: SampleIndex, arc: Loaded): Evidence {
    const { setting, supplies, surroundings, sensor } = this.#around;
    return {
      supply: { ...supplies.evidence(setting.loops), loaded: this.loaded(setting, arc) },
      openVolts: surroundings.openVoltsOf(setting.loops),
      sags: { count: 0, worst: null, strikes: { count: 0, worst: null } },
      duty: { highestFraction: null, effectiveAmps: null, atS: null },
      others: supplies.others(start, setting.loops),
      phases: surroundings.phases('arc'),
      waveform: surroundings.waveform(),
      sensor: sensor.evidence(),
    };
  }
}

const noDistortion: ArcDistortion = { voltsPercent: null, ampsPercent: null };

function channelOf(pair: ArcMeasured['pairs'][number], thd: ArcDistortion): ArcChannel {
  return {
    idleVolts: pair.idleVolts,
    idleAmps: pair.idleAmps,
    meanVolts: pair.meanVolts,
    minVolts200ms: pair.minVolts200ms,
    maxVolts200ms: pair.maxVolts200ms,
    minVoltsHalfCycle: pair.minVoltsHalfCycle,
    meanAmps: pair.meanAmps,
    maxAmps200ms: pair.maxAmps200ms,
    meanWatts: pair.meanWatts,
    powerFactor: pair.powerFactor,
    thdVoltsPercent: thd.voltsPercent,
    thdAmpsPercent: thd.ampsPercent,
  };
}

/** Without an idle machine before it an arc's start was not seen. */
function strikeOf(pair: ArcMeasured['pairs'][number]): Strike | null {
  if (pair.idleVolts === null) return null;
  return {
    minVoltsHalfCycle: pair.minVoltsStrike,
    amps: pair.strikeAmps,
    watts: pair.strikeWatts,
  };
}
