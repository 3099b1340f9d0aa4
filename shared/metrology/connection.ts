import type { SampleIndex } from '../units.ts';
import { MOST_EDGES, type SupplyEvidence } from './supply-evidence.ts';

/**
 * `grown`: more ohms from one arc on. `heats`: more at the end of an arc than at its start.
 * `wanders`: other ohms at every edge, beyond what the background explains.
 */
export type ConnectionKind = 'grown' | 'heats' | 'wanders';

/** Ohms that changed between the source and the sensor: no wire does that. */
export interface ConnectionChange {
  kind: ConnectionKind;
  ohmsBefore: number;
  ohmsAfter: number;
  /** Standard uncertainty of what was added. */
  addedSd: number;
  /** Mean of the steps that show it, fundamental r.m.s. */
  amps: number;
  since: SampleIndex;
  /** Edges that show it; one alone may be a neighbour that came with the arc. */
  edges: number;
}

/** A wire that warms by 50 K within an arc gains 20 % (0.39 %/K of copper); a contact more. */
const WARM_PART = 0.2;
/** A change between arcs is looked at from this part of the ohms on: a wire cools by less … */
const LEAST_PART = 0.25;
/** … and on one edge alone only from this part. */
const LEAST_PART_ALONE = 0.5;
/** What phasors of a current that is just changing leave unsure of one edge, part of its ohms. */
const MODEL = 0.004;
/** Idle volts before and after an arc that differ by this part of the drop in question: it was the
 * supply that moved, and no contact. */
const IDLE_PART = 0.5;
/** Newest arcs that are asked whether they heat. */
const MOST_ARCS = 4;
/** Edges before a change that it is held against: an arc's, two arcs', all of the state. */
const REACHES = [2, 4, MOST_EDGES] as const;
/** Segments after one another: each change is looked for again in what is newer. */
const MOST_CHANGES = 4;
/** An edge that wanders lies this many deviations off, and by this part of the ohms; and so many of
 * the edges do. */
const WANDERS = 4;
const WANDERS_PART = 0.06;
const WANDERING_EDGES = 0.4;
const LEAST_EDGES = 3;

/** Deviations that a change must stand out by: some 1e-4 of Student's t, at several places. */
const critical = (degrees: number): number => 5 + 14 / degrees;

// Room for one look at a time.
const ohms = new Float64Array(MOST_EDGES);
const weight = new Float64Array(MOST_EDGES);
const sorted = new Float64Array(MOST_EDGES);

/** Weighted mean, spread and weight of a run of edges. */
class Group {
  mean = 0.5;
  weight = 0.5;
  /** Σ weight·(ohms − mean)². */
  squares = 0.5;
  count = 0;

  clear(): void {
    this.mean = this.weight = this.squares = this.count = 0;
  }

  add(value: number, w: number): void {
    this.count++;
    this.weight += w;
    const off = value - this.mean;
    this.mean += (w * off) / this.weight;
    this.squares += w * off * (value - this.mean);
  }
}

/**
 * Tells a resistance that changes from one that is only hard to measure, by the edges' own ohms
 * r = −ΔV/ΔI: between arcs (two runs of edges apart), within arcs (end against start, the idle
 * voltage being the same on both sides), or at every edge. The newest state rules: edges of an
 * older one are marked as not used.
 */
export class Connection {
  change: ConnectionChange | null = null;
  /** Ends of arcs show fewer ohms than their starts. */
  disagree = false;
  /** Where the newest arc began, if its own ohms changed either way and the supply stood still. */
  unsteadySince: SampleIndex | null = null;
  readonly #old = new Group();
  readonly #new = new Group();
  readonly #starts = new Group();
  readonly #ends = new Group();
  readonly #differences = new Group();
  #from = 0;
  /** Edges but for what an arc's end would be now. */
  #size = 0;
  #looks = 1.5;

  /** Looks at all edges; `looks` are the degrees of freedom of their variances. */
  look(evidence: SupplyEvidence, ohmsX: number, looks: number): void {
    this.change = null;
    this.disagree = false;
    this.unsteadySince = null;
    this.#from = 0;
    this.#looks = looks;
    this.#size = evidence.guessed ? evidence.size - 1 : evidence.size;
    for (let k = 0; k < evidence.size; k++) {
      const c = evidence.column(k);
      const perAmp = 1 / evidence.mR[c]!;
      ohms[k] = (evidence.mY[c]! - ohmsX * evidence.mX[c]!) * perAmp;
      weight[k] = 1 / (evidence.mVariance[c]! * perAmp ** 2 + (MODEL * ohms[k]!) ** 2);
      evidence.used[c] = 1;
    }
    let splits = 0;
    while (splits < MOST_CHANGES && this.#splits(evidence)) splits++;
    for (let k = 0; k < this.#from; k++) evidence.used[evidence.column(k)] = 0;
    if (this.#heats(evidence, evidence.size)) return;
    if (evidence.guessed) {
      evidence.used[evidence.column(this.#size)] = 0;
      // An arc that has only begun has not heated the contact again yet.
      if (this.#heats(evidence, this.#size)) return;
    }
    // What went up and down again is perhaps no row of states.
    if (splits > 1 && this.change === null) this.#wanders(evidence, 0);
    else this.#wanders(evidence, this.#from);
  }

  /** Finds where the newest run of edges parts most from those before it. */
  #splits(evidence: SupplyEvidence): boolean {
    const size = this.#size;
    let best = 0;
    let at = 0;
    let behind = 0;
    for (let split = this.#from + 2; split < size; split++) {
      const alone = size - split === 1;
      if (alone && evidence.began[evidence.column(split)] === 0) continue;
      for (const reach of REACHES) {
        const first = Math.max(this.#from, split - reach);
        const apart = this.#apart(first, split, size) / (alone ? 1.5 : 1);
        if (apart <= best) continue;
        best = apart;
        at = split;
        behind = first;
      }
    }
    if (at === 0) return false;
    this.#apart(behind, at, size);
    const before = this.#old.mean;
    const after = this.#new.mean;
    this.#from = at;
    this.change = null;
    if (after <= before) return true;
    const scale = this.#scale(this.#old, this.#new);
    const addedSd = Math.sqrt(scale * (1 / this.#old.weight + 1 / this.#new.weight));
    this.#tell(evidence, 'grown', before, after, addedSd, at, size);
    return true;
  }

  /** By how many times the critical deviation the edges from `split` on differ from those between
   * `first` and it; 0 if too little. */
  #apart(first: number, split: number, size: number): number {
    this.#old.clear();
    this.#new.clear();
    for (let k = first; k < size; k++) {
      (k < split ? this.#old : this.#new).add(ohms[k]!, weight[k]!);
    }
    const [before, after] = [this.#old.mean, this.#new.mean];
    const part = size - split === 1 ? LEAST_PART_ALONE : LEAST_PART;
    if (Math.abs(after - before) < part * Math.min(Math.abs(before), Math.abs(after))) return 0;
    const scale = this.#scale(this.#old, this.#new);
    const sd = Math.sqrt(scale * (1 / this.#old.weight + 1 / this.#new.weight));
    const deviations = Math.abs(after - before) / sd;
    const limit = critical(this.#looks + size - first - 2);
    return deviations > limit ? deviations / limit : 0;
  }

  /** Variance of the edges over what the background says, its own figure worth `looks`. */
  #scale(...groups: readonly Group[]): number {
    let squares = this.#looks;
    let degrees = this.#looks;
    for (const group of groups) {
      squares += group.squares;
      degrees += Math.max(0, group.count - 1);
    }
    return squares / degrees;
  }

  /** The newest arc by itself, then the newest few together. */
  #heats(evidence: SupplyEvidence, size: number): boolean {
    for (const most of [1, MOST_ARCS]) {
      const first = this.#gatherArcs(evidence, size, most);
      const { count } = this.#differences;
      if (count === 0) return false;
      const scale = this.#scale(this.#differences);
      const sd = Math.sqrt(scale / this.#differences.weight);
      const limit = critical(this.#looks + count - 1) * sd;
      const { mean } = this.#differences;
      if (most === 1 && Math.abs(mean) > limit) {
        this.unsteadySince = evidence.at[evidence.column(first)]!;
      }
      const start = this.#starts.mean;
      if (mean - WARM_PART * Math.max(0, start) > limit) {
        this.#useEnds(evidence, size, first, start, sd);
        return true;
      }
      if (count > 1) this.disagree = -mean > Math.max(limit, LEAST_PART * Math.abs(start));
    }
    return false;
  }

  /** Ends minus starts of the newest arcs whose supply stood still; the index of the first. */
  #gatherArcs(evidence: SupplyEvidence, size: number, most: number): number {
    this.#starts.clear();
    this.#ends.clear();
    this.#differences.clear();
    let first = size;
    for (let k = size - 1; k > this.#from && this.#differences.count < most; k--) {
      const end = evidence.column(k);
      const start = evidence.column(k - 1);
      if (evidence.began[end] === 1 || evidence.began[start] === 0) continue;
      const more = ohms[k]! - ohms[k - 1]!;
      const moved = Math.abs(evidence.idleVolts[end]! - evidence.idleVolts[start]!);
      if (moved > IDLE_PART * Math.abs(more) * evidence.amps[end]!) {
        // The newest arc decides by itself, or not at all.
        if (most === 1) return first;
        continue;
      }
      const both = 1 / (1 / weight[k]! + 1 / weight[k - 1]!);
      this.#differences.add(more, both);
      this.#starts.add(ohms[k - 1]!, weight[k - 1]!);
      this.#ends.add(ohms[k]!, weight[k]!);
      first = k - 1;
    }
    return first;
  }

  /** What heats is worst when it is hot: the ends of arcs rule. */
  #useEnds(
    evidence: SupplyEvidence,
    size: number,
    first: number,
    before: number,
    sd: number,
  ): void {
    for (let k = 0; k < size; k++) {
      const c = evidence.column(k);
      if (k < first || evidence.began[c] === 1) evidence.used[c] = 0;
    }
    this.#tell(evidence, 'heats', before, this.#ends.mean, sd, first, size);
  }

  /** Every other edge with ohms of its own. */
  #wanders(evidence: SupplyEvidence, from: number): void {
    const size = this.#size;
    const count = size - from;
    if (count < LEAST_EDGES) return;
    this.#new.clear();
    for (let k = from; k < size; k++) {
      this.#new.add(ohms[k]!, weight[k]!);
      sorted[k - from] = ohms[k]!;
    }
    const middle = median(count);
    for (let k = from; k < size; k++) {
      const off = Math.abs(ohms[k]! - middle);
      const own =
        this.#idleMove(evidence, k) < IDLE_PART * off * evidence.amps[evidence.column(k)]!;
      const stands = off * Math.sqrt(weight[k]!) > WANDERS && off > WANDERS_PART * Math.abs(middle);
      sorted[k - from] = own && stands ? 1 : 0;
    }
    let apart = 0;
    for (let k = 0; k < count; k++) apart += sorted[k]!;
    if (apart < WANDERING_EDGES * count) return;
    const runs = ohms.subarray(from, size);
    const [least, most] = [Math.min(...runs), Math.max(...runs)];
    const sd = Math.sqrt(2 / (this.#new.weight / count));
    for (let k = from; k < size; k++) evidence.used[evidence.column(k)] = 1;
    this.#tell(evidence, 'wanders', least, most, sd, from, size);
  }

  /** Within arcs the ohms move by `moved` from moment to moment, whatever the edges showed. */
  wanders(evidence: SupplyEvidence, ohmsR: number, moved: number, since: SampleIndex): void {
    const [ohmsBefore, ohmsAfter] = [Math.max(0, ohmsR - moved), ohmsR + moved];
    this.#tell(evidence, 'wanders', ohmsBefore, ohmsAfter, moved / 4, this.#from, this.#size);
    this.change = { ...this.change!, since, edges: Math.max(2, this.change!.edges) };
  }

  /** By how much the idle volts differ before and after the arc of edge `k`. */
  #idleMove(evidence: SupplyEvidence, k: number): number {
    const c = evidence.column(k);
    const other = evidence.began[c] === 1 ? k + 1 : k - 1;
    if (other < 0 || other >= this.#size) return 0;
    const o = evidence.column(other);
    return evidence.began[o] === evidence.began[c]
      ? 0
      : Math.abs(evidence.idleVolts[o]! - evidence.idleVolts[c]!);
  }

  #tell(
    evidence: SupplyEvidence,
    kind: ConnectionKind,
    ohmsBefore: number,
    ohmsAfter: number,
    addedSd: number,
    first: number,
    size: number,
  ): void {
    let amps = 0;
    for (let k = first; k < size; k++) amps += evidence.amps[evidence.column(k)]! / (size - first);
    const since = evidence.at[evidence.column(first)]!;
    this.change = { kind, ohmsBefore, ohmsAfter, addedSd, amps, since, edges: size - first };
  }
}

/** Of the first `count` of `sorted`. */
function median(count: number): number {
  const part = sorted.subarray(0, count).sort();
  return (part[(count - 1) >> 1]! + part[count >> 1]!) / 2;
}
