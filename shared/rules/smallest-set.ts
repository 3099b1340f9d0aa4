import { assert } from '../assert.ts';

/** A set to choose from: what it covers, and what it costs. */
export interface Choice {
  /** Indices of the things it covers. */
  covers: readonly number[];
  cost: number;
}

export interface Cover {
  /** Indices of the chosen, ascending. */
  chosen: number[];
  cost: number;
}

/** What comes first where both cannot be had. */
export type Aim = 'fewest' | 'cheapest';

/**
 * The best ways to cover things 0 … `things` − 1: all that tie, up to `most`, in ascending order of
 * their indices. Exact: branches over the ways to cover the hardest thing, and leaves a branch when
 * things that no choice covers two of would already cost more than the best known.
 *
 * `fewest` takes the fewest choices, and of those the cheapest; `cheapest` the other way about.
 * Every thing must be covered by some choice.
 */
export function bestCovers(
  things: number,
  choices: readonly Choice[],
  aim: Aim,
  most = 16,
): Cover[] {
  assert(choices.length <= 1024 && things <= 1024, 'at most 1,024 choices and things');
  const search = new Search(things, choices, aim, most);
  search.descend();
  return search.found
    .map((cover) => ({ chosen: [...cover.chosen].sort((a, b) => a - b), cost: cover.cost }))
    .sort((a, b) => compareLists(a.chosen, b.chosen));
}

/** Costs are sums of prices: two nearer than this are the same sum, added in another order. */
const sameCost = 1e-6;

class Search {
  readonly found: Cover[] = [];
  readonly #choices: readonly Choice[];
  readonly #coveredBy: number[][];
  readonly #aim: Aim;
  readonly #most: number;
  /** How many chosen choices cover each thing. */
  readonly #times: Int32Array;
  /** 0 free, else the depth at which it was shut out of a branch. */
  readonly #shut: Int32Array;
  #chosen: number[] = [];
  #cost = 0;
  #open: number;

  constructor(things: number, choices: readonly Choice[], aim: Aim, most: number) {
    this.#choices = choices;
    this.#aim = aim;
    this.#most = most;
    this.#times = new Int32Array(things);
    this.#shut = new Int32Array(choices.length);
    this.#open = things;
    this.#coveredBy = Array.from({ length: things }, () => []);
    for (const [index, choice] of choices.entries())
      for (const thing of choice.covers) this.#coveredBy[thing]!.push(index);
    assert(
      this.#coveredBy.every((list) => list.length > 0),
      'every thing is covered by some choice',
    );
  }

  descend(): void {
    if (this.#open === 0) {
      this.#keep();
      return;
    }
    if (this.#hopeless()) return;
    const thing = this.#hardest();
    const ways = this.#free(thing).sort((a, b) => this.#gain(b) - this.#gain(a) || a - b);
    // Each way is shut out of its later siblings: no cover is met twice.
    for (const way of ways) {
      this.#take(way);
      this.descend();
      this.#giveBack(way);
      this.#shut[way] = 1;
    }
    for (const way of ways) this.#shut[way] = 0;
  }

  #free(thing: number): number[] {
    return this.#coveredBy[thing]!.filter((index) => this.#shut[index] === 0);
  }

  #gain(index: number): number {
    let gain = 0;
    for (const thing of this.#choices[index]!.covers) gain += this.#times[thing] === 0 ? 1 : 0;
    return this.#aim === 'fewest' ? gain : gain / (this.#choices[index]!.cost + sameCost);
  }

  #take(index: number): void {
    this.#chosen.push(index);
    this.#cost += this.#choices[index]!.cost;
    for (const thing of this.#choices[index]!.covers) if (this.#times[thing]!++ === 0) this.#open--;
  }

  #giveBack(index: number): void {
    this.#chosen.pop();
    this.#cost -= this.#choices[index]!.cost;
    for (const thing of this.#choices[index]!.covers) if (--this.#times[thing]! === 0) this.#open++;
  }

  /** The uncovered thing with the fewest ways left; none left ends the branch at once. */
  #hardest(): number {
    let hardest = -1;
    let fewest = Number.POSITIVE_INFINITY;
    for (let thing = 0; thing < this.#times.length; thing++) {
      if (this.#times[thing] !== 0) continue;
      const ways = this.#free(thing).length;
      if (ways >= fewest) continue;
      fewest = ways;
      hardest = thing;
    }
    return hardest;
  }

  /** Things of which no choice covers two each need a choice of their own: a floor for the rest. */
  #hopeless(): boolean {
    const best = this.found[0];
    if (!best) return false;
    const met = new Uint8Array(this.#choices.length);
    let count = this.#chosen.length;
    let cost = this.#cost;
    for (let thing = 0; thing < this.#times.length; thing++) {
      if (this.#times[thing] !== 0) continue;
      const ways = this.#free(thing);
      if (ways.some((way) => met[way] === 1)) continue;
      count++;
      cost += Math.min(...ways.map((way) => this.#choices[way]!.cost));
      for (const way of ways) met[way] = 1;
    }
    const order = this.#order(count, cost, best);
    // A tie is worth finding only while there is room for it.
    return order > 0 || (order === 0 && this.found.length >= this.#most);
  }

  #order(count: number, cost: number, than: Cover): number {
    const byCount = count - than.chosen.length;
    const byCost = Math.abs(cost - than.cost) < sameCost ? 0 : cost - than.cost;
    return this.#aim === 'fewest' ? byCount || byCost : byCost || byCount;
  }

  #keep(): void {
    const best = this.found[0];
    const order = best ? this.#order(this.#chosen.length, this.#cost, best) : -1;
    if (order > 0) return;
    if (order < 0) this.found.length = 0;
    if (this.found.length < this.#most)
      this.found.push({ chosen: [...this.#chosen], cost: this.#cost });
  }
}

function compareLists(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at === -1 ? a.length - b.length : a[at]! - (b[at] ?? Number.POSITIVE_INFINITY);
}
