import { ChannelRuns } from '../metrology/channel-runs.ts';
import type { HalfCycleRow } from '../metrology/row.ts';
import type { SensorChannel, SensorEvidence, SensorPair } from '../rules/facts.ts';
import type { Hertz, SampleIndex, Seconds } from '../units.ts';

/** Two channels are the same after as many equal samples: chance gives a handful. */
const sameSeconds: Seconds = 0.2;
/** Swing of a channel under which equal samples say nothing: rest, in volts or amperes. */
const leastSwing = 2;
/** A voltage under this is none; a current over this must have one beside it. */
const noVolts = 1;
const leastAmps = 2;
/** What a half cycle of a machine's own flutter may do to the two halves is averaged over these. */
const leastHalves = 20;

/** Looks at what the samples say of the sensor: runs in each channel, and channels side by side. */
export class SensorWatch {
  readonly #rateHz: Hertz;
  readonly #channels: readonly ChannelRuns[];
  readonly #pairs: readonly PairSums[];
  readonly #sameFrames: number;
  /** Frames in which each two channels were equal without a break, a triangle of them. */
  readonly #equal: Float64Array;
  #same: readonly [number, number] | null = null;

  constructor(setup: { rateHz: Hertz; pairs: number; nominalHertz: 50 | 60 }) {
    const { rateHz, pairs, nominalHertz } = setup;
    const many = 2 * pairs;
    this.#rateHz = rateHz;
    this.#sameFrames = sameSeconds * rateHz;
    this.#channels = Array.from({ length: many }, () => new ChannelRuns(rateHz, nominalHertz));
    this.#pairs = Array.from({ length: pairs }, () => new PairSums());
    this.#equal = new Float64Array(many * many);
  }

  push(channels: readonly Float64Array[], frames: number): void {
    for (let c = 0; c < this.#channels.length; c++) this.#channels[c]!.push(channels[c]!, frames);
    if (this.#same === null) this.#compare(channels, frames);
  }

  halfCycle(row: HalfCycleRow, burning: boolean): void {
    for (let pair = 0; pair < this.#pairs.length; pair++)
      this.#pairs[pair]!.add(row, pair, burning);
  }

  skip(): void {
    for (const channel of this.#channels) channel.skip();
    this.#equal.fill(0);
  }

  /** A current that was clipped before it is another's: a machine that is switched on surges. */
  arcBegan(): void {
    for (let c = 1; c < this.#channels.length; c += 2) this.#channels[c]!.mark();
    for (const pair of this.#pairs) pair.clear();
  }

  /** The arc was judged: what comes from here on is the next one's. */
  arcEnded(): void {
    for (const channel of this.#channels) channel.mark();
    for (const pair of this.#pairs) pair.clear();
  }

  evidence(): SensorEvidence {
    const channel = (at: number): SensorChannel => {
      const runs = this.#channels[at]!;
      return { ...runs.odds(), offsetShare: runs.offsetShare };
    };
    return {
      pairs: this.#pairs.map(
        (sums, pair): SensorPair => ({
          volts: channel(2 * pair),
          amps: channel(2 * pair + 1),
          watts: sums.watts,
          vars: sums.vars,
          lopsided: sums.lopsided,
          deadSeconds: sums.deadMost / this.#rateHz,
        }),
      ),
      same: this.#same,
    };
  }

  /** Channels that differ, as all should, do so within a sample or two: it costs no more. */
  #compare(channels: readonly Float64Array[], frames: number): void {
    const many = this.#channels.length;
    for (let a = 0; a < many; a++) {
      for (let b = a + 1; b < many; b++) {
        const equal = equalUntil(channels[a]!, channels[b]!, frames);
        const at = a * many + b;
        this.#equal[at] = equal < frames ? 0 : this.#equal[at]! + frames;
        if (this.#equal[at]! < this.#sameFrames) continue;
        if (this.#channels[a]!.amplitude <= leastSwing) continue;
        this.#same = [a, b];
        return;
      }
    }
  }
}

function equalUntil(one: Float64Array, other: Float64Array, frames: number): number {
  for (let k = 0; k < frames; k++) if (one[k] !== other[k]) return k;
  return frames;
}

/** One pair's sums over half cycles. */
class PairSums {
  watts = 0.0;
  vars = 0.0;
  deadMost: SampleIndex = 0;
  #dead = 0.0;
  /** Squares of the current by half cycles of one sign and of the other. */
  #even = 0.0;
  #odd = 0.0;
  #halves = 0;

  add(row: HalfCycleRow, pair: number, burning: boolean): void {
    const amps = row.ihalf[pair]!;
    const flows = amps > leastAmps && row.uhalf[pair]! < noVolts;
    this.#dead = flows ? this.#dead + row.end - row.middle : 0;
    if (this.#dead > this.deadMost) this.deadMost = this.#dead;
    if (!burning) return;
    const ur = row.u1re[pair]!;
    const ui = row.u1im[pair]!;
    const ir = row.i1re[pair]!;
    const ii = row.i1im[pair]!;
    this.watts += ur * ir + ui * ii;
    this.vars += ui * ir - ur * ii;
    if (row.index % 2 === 0) this.#even += amps * amps;
    else this.#odd += amps * amps;
    this.#halves++;
  }

  get lopsided(): number | null {
    if (this.#halves < leastHalves) return null;
    const [even, odd] = [Math.sqrt(this.#even), Math.sqrt(this.#odd)];
    return even + odd > 0 ? Math.abs(even - odd) / (even + odd) : null;
  }

  clear(): void {
    this.watts = this.vars = this.#even = this.#odd = 0;
    this.deadMost = this.#halves = 0;
  }
}
