import { assert } from '../assert.ts';
import { ArcDetector } from '../metrology/arc-detector.ts';
import { Duty } from '../metrology/duty.ts';
import { Intervals } from '../metrology/intervals.ts';
import { LineToLine, linesOf, rowWidth } from '../metrology/line-to-line.ts';
import { Meter } from '../metrology/meter.ts';
import { RmsEvents } from '../metrology/rms-events.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { Judgement } from '../protocol/judgement.ts';
import { aliveVolts } from '../rules/arrangement.ts';
import type { Setting } from '../rules/facts.ts';
import { type ArcSeen, carriersOf, entriesOf } from '../rules/loops.ts';
import type { Amperes, SampleIndex, Volts } from '../units.ts';
import { ArcWatch } from './arc-watch.ts';
import type { WatchEvents, WatchSetup, Welding } from './contract.ts';
import { Distortion } from './distortion.ts';
import { QuietRows } from './quiet-rows.ts';
import { RowBatcher } from './row-batcher.ts';
import { SagLog } from './sag-log.ts';
import { SensorWatch } from './sensor-watch.ts';
import { settle } from './settle.ts';
import { Supplies } from './supplies.ts';
import { SupplyQuality } from './supply-quality.ts';
import { Surroundings } from './surroundings.ts';
import { tellJudgement } from './tell-judgement.ts';
import { WholeSums } from './whole-sums.ts';

/** Longest block that meters take at once, unless told. */
const longestBlock = 8192;
/** Blocks this short until the fundamental is found: what hangs on it must not start late. */
const firstBlockSeconds = 0.1;

/** What can only be built when frequency and voltage class are known. */
interface Grown {
  setting: Setting;
  nominalHertz: 50 | 60;
  intervals: Intervals;
  distortion: Distortion;
  sensor: SensorWatch;
  supplies: Supplies;
  quality: SupplyQuality | null;
  arcs: ArcWatch;
  /** Null while no nominal voltage fits. */
  dips: RmsEvents | null;
  /** The machine hangs elsewhere than `dips` look: after the dip that lasts they move. */
  dipsDue: boolean;
  /** Entries of a row that the newest arc's current flowed through, where it told. */
  carries: readonly number[] | null;
}

/**
 * Samples to rows, arcs, sags and judgements; the same for a recording and for a live sensor.
 *
 * Memory does not grow with the stream. Samples come in stream order; what the sensor left out
 * because nothing happened is skipped as quiet, what went missing as lost.
 */
export class Watch {
  #setup: WatchSetup;
  readonly #events: WatchEvents;
  readonly #blockFrames: number;
  readonly #meter: Meter;
  /** Null of a single pair: nothing lies between. */
  readonly #between: LineToLine | null;
  readonly #detector: ArcDetector;
  /** Null where nobody will ask for the whole stream's judgement. */
  readonly #whole: { duty: Duty; sums: WholeSums; quiet: QuietRows } | null;
  readonly #surroundings: Surroundings;
  readonly #rows: RowBatcher | null;
  readonly #sags: SagLog;
  #grown: Grown | null = null;
  /** Position in the stream, gaps included. */
  #at: SampleIndex = 0;
  #ended = false;

  constructor(setup: WatchSetup, events: WatchEvents) {
    const { rateHz, pairs, nominalHertz } = setup;
    assert(pairs >= 1 && pairs <= 3, 'a stream has one to three pairs');
    this.#setup = setup;
    this.#events = events;
    this.#meter = new Meter(
      { rateHz, pairs, between: rowWidth(pairs) - pairs, nominalHertz, phasors: true },
      {
        halfCycle: (row) => this.#row(row),
        channel: (reading) => this.#grown?.dips?.channel(reading),
        edge: (row) => this.#edge(row),
      },
    );
    this.#detector = new ArcDetector(
      { rateHz, pairs },
      {
        began: (start) => this.#began(start),
        ended: (start, end) => this.#arcEnded(start, end),
      },
    );
    this.#blockFrames = setup.blockFrames ?? longestBlock;
    this.#between = pairs > 1 ? new LineToLine(pairs, this.#blockFrames) : null;
    this.#whole = setup.eventsOnly
      ? null
      : {
          duty: new Duty({ rateHz, pairs }),
          sums: new WholeSums(pairs),
          quiet: new QuietRows(rateHz, pairs),
        };
    this.#surroundings = new Surroundings(rateHz, pairs);
    this.#rows = events.rows ? new RowBatcher(pairs, (batch) => events.rows?.(batch)) : null;
    this.#sags = new SagLog({ rateHz, pairs, keep: setup.keep ?? 0 }, (sag) => events.sag?.(sag));
  }

  /** Takes the first `frames` samples of v1, i1, v2, i2, …, in volts and amperes. */
  push(channels: readonly Float64Array[], frames: number): void {
    assert(!this.#ended, 'a watch that has ended takes no samples');
    this.#whole?.sums.push(channels, frames);
    for (let from = 0; from < frames; ) {
      const first = Math.ceil(firstBlockSeconds * this.#setup.rateHz);
      const most = this.#grown ? this.#blockFrames : Math.min(first, this.#blockFrames);
      const part = Math.min(most, frames - from);
      const whole = from === 0 && part === frames;
      const block = whole ? channels : channels.map((each) => each.subarray(from, from + part));
      this.#at += part;
      this.#grown?.distortion.push(block, part);
      this.#grown?.sensor.push(block, part);
      this.#grown?.quality?.push(block, part);
      this.#meter.push(this.#between?.take(block, part) ?? block, part);
      from += part;
    }
  }

  /** Tells of `frames` samples that are not there: nothing happened in them, or they were lost. */
  skip(frames: number, kind: 'quiet' | 'lost'): void {
    if (frames <= 0) return;
    this.#meter.skip(frames);
    this.#at += frames;
    this.#grown?.distortion.skip(frames);
    this.#grown?.sensor.skip();
    this.#grown?.quality?.skip(frames);
    this.#grown?.supplies.skip(frames);
    if (kind === 'lost') {
      this.#grown?.arcs.lost(frames);
      this.#detector.skip(frames);
    } else {
      this.#detector.end();
      this.#grown?.distortion.rest();
      this.#grown?.arcs.rest(this.#at);
      this.#meter.rest();
      this.#between?.rest();
      this.#fillDuty(this.#at - frames);
    }
    this.#rows?.flush();
  }

  /** Other work, or another coupon, from the arc on that begins now: what was learnt stays. */
  welds(welding: Welding): void {
    this.#setup = { ...this.#setup, ...welding };
    const grown = this.#grown;
    if (!grown) return;
    grown.setting = { ...grown.setting, ...welding };
    grown.arcs.settle(grown.setting);
  }

  /** What the rules are told; where the machine hangs as far as its arcs have shown it. */
  get setting(): Setting {
    return this.#grown?.setting ?? settle(this.#setup, null, this.#setup.nominalHertz);
  }

  /** The stream's end: what still burns or lasts ends here. */
  end(): void {
    if (this.#ended) return;
    this.#ended = true;
    this.#meter.end();
    this.#detector.end(this.#at);
    this.#grown?.dips?.end();
    this.#grown?.supplies.end();
    this.#grown?.quality?.end();
    this.#whole?.duty.end();
    this.#rows?.flush();
  }

  /** The whole of the stream so far; arcs and sags as far as `keep` of the setup goes. */
  judgement(format: string): Judgement {
    const grown = this.#grown;
    const whole = this.#whole;
    if (grown && grown.arcs.count === 0) this.#settleBy(grown, null);
    assert(whole !== null, 'a watch of events alone gives no judgement of the whole');
    return tellJudgement({
      setup: this.#setup,
      format,
      durationS: this.#at / this.#setup.rateHz,
      setting: this.setting,
      frequencyHz: this.#surroundings.frequencyHz,
      whole: whole.sums.figures(),
      surroundings: this.#surroundings,
      supplies: grown?.supplies ?? null,
      sensor: grown?.sensor ?? null,
      quality: grown?.quality?.figures() ?? null,
      arcs: grown?.arcs ?? null,
      sags: this.#sags,
      duty: whole.duty,
    });
  }

  /** What was not sent counts as no arc, the machine at its idle current. */
  #fillDuty(from: SampleIndex): void {
    if (this.#whole === null) return;
    const { duty, quiet } = this.#whole;
    quiet.fill(from, this.#at, this.#detector.idle ?? 0, (row) => duty.halfCycle(row));
  }

  #row(row: HalfCycleRow): void {
    const grown = (this.#grown ??= this.#grow(row));
    if (grown.dips === null) this.#learnClass(grown, row);
    this.#rows?.halfCycle(row);
    this.#whole?.duty.halfCycle(row);
    grown.arcs.halfCycle(row);
    grown.supplies.halfCycle(row);
    this.#detector.halfCycle(row);
    // Several voltages have come already, each on its own crossings.
    if (this.#setup.pairs === 1) grown.dips?.halfCycle(row);
    const active = grown.dips?.active ?? false;
    this.#sags.halfCycle(row, active, grown.setting, this.#idleOfLine(grown));
    if (!active && grown.dipsDue) this.#watchDips(grown);
    grown.intervals.halfCycle(row, grown.dips?.active ?? false);
    grown.quality?.halfCycle(row, grown.dips?.active ?? false);
    this.#surroundings.halfCycle(row, this.#detector.burning);
    grown.sensor.halfCycle(row, this.#detector.burning);
    if (this.#detector.burning) grown.arcs.goesOn(row);
  }

  /** The part of a half cycle that the stream, or what lies between gaps, begins or ends with. */
  #edge(row: HalfCycleRow): void {
    const grown = (this.#grown ??= this.#grow(row));
    grown.arcs.edge(row);
    this.#detector.edge(row);
  }

  #grow(row: HalfCycleRow): Grown {
    const { rateHz, pairs, startedAt } = this.#setup;
    const nominalHertz = this.#meter.nominalHertz ?? (row.hertz < 55 ? 50 : 60);
    const shape = { rateHz, pairs, nominalHertz };
    const blocks = { ...shape, blockFrames: this.#blockFrames };
    const distortion = new Distortion(blocks, this.#at, (percent, crest) =>
      this.#surroundings.distortion(percent, crest),
    );
    const cycles = nominalHertz === 50 ? 10 : 12;
    const supplies = new Supplies(shape, this.#setup.sensor ?? null, (event, at) =>
      this.#events.otherLoad?.(event, at),
    );
    const setting = settle(this.#setup, null, nominalHertz);
    const sensor = new SensorWatch(shape);
    return {
      setting,
      nominalHertz,
      distortion,
      sensor,
      supplies,
      quality: this.#setup.quality ? new SupplyQuality({ ...shape, startedAt }, this.#at) : null,
      dips: null,
      dipsDue: false,
      carries: null,
      intervals: new Intervals(
        { ...shape, pairs: rowWidth(pairs), startedAt },
        {
          basic: (interval) => {
            this.#surroundings.interval(interval, cycles);
            distortion.interval(interval);
          },
        },
      ),
      arcs: new ArcWatch(
        { rateHz, pairs, keep: this.#setup.keep ?? 0 },
        {
          ...{ setting, supplies, distortion, surroundings: this.#surroundings, sensor },
          seen: (arc) => this.#seen(arc),
        },
        this.#events,
      ),
    };
  }

  /** Once the circuit is alive its class is settled, and with it what a dip is. */
  #learnClass(grown: Grown, row: HalfCycleRow): void {
    this.#settleBy(grown, [...row.urms]);
    this.#watchDips(grown);
  }

  /** Settles by idle volts, those of a row; by all that was idle where none are given. */
  #settleBy(grown: Grown, idle: readonly Volts[] | null): void {
    const volts = idle ?? this.#surroundings.idleVolts;
    if (volts === null || Math.max(...volts) < aliveVolts) return;
    const before = grown.setting.loops;
    const seen = { volts, carries: grown.carries };
    grown.setting = settle(this.#setup, seen, grown.nominalHertz);
    grown.arcs.settle(grown.setting);
    if (before.join() !== grown.setting.loops.join()) grown.dipsDue = grown.dips !== null;
  }

  #watchDips(grown: Grown): void {
    const { nominalVolts: declaredVolts, loops: entries } = grown.setting;
    if (declaredVolts === null) return;
    const { rateHz } = this.#setup;
    const options = { rateHz, pairs: entries.length, entries, declaredVolts };
    grown.dips = new RmsEvents(options, this.#sags);
    grown.dipsDue = false;
  }

  /** An arc, whole or so far, says between which wires the machine hangs. */
  #seen(arc: ArcSeen): Setting {
    const grown = this.#grown!;
    const { pairs } = this.#setup;
    grown.carries = carriersOf(arc, pairs) ?? grown.carries;
    const idle = entriesOf(arc).map(({ idleVolts }) => idleVolts);
    this.#settleBy(grown, idle.every((volts) => volts !== null) ? idle : null);
    return grown.setting;
  }

  /** The detector's idle current is of all lines together. */
  #idleOfLine({ setting }: Grown): Amperes {
    const lines = linesOf(setting.loops, this.#setup.pairs).length;
    return (this.#detector.idle ?? 0) / Math.sqrt(lines);
  }

  #began(start: SampleIndex): void {
    this.#rows?.flush();
    this.#whole?.duty.began(start);
    this.#sags.arcBegan(start);
    this.#surroundings.arcBegan();
    this.#grown?.arcs.began(start);
    this.#events.arcBegan?.(start);
  }

  #arcEnded(start: SampleIndex, end: SampleIndex): void {
    this.#rows?.flush();
    this.#whole?.duty.ended(start, end);
    this.#sags.arcEnded(end);
    this.#grown?.arcs.ended(start, end);
  }
}
