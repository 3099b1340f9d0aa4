import type { Seconds } from '../units.ts';
import type { CycleRing } from './cycle-ring.ts';
import type { OtherLoadEvent } from './supply-estimate.ts';

/** So long after a step it is asked what is left of it: a momentary sag of IEEE 1159 is over then
 * (from memory), and so is a motor's start. */
const followS: Seconds = 3;
/** Cycles of each of the two means that are compared. */
const side = 3;
/** How far the level wanders by itself is learnt over this many cycles, now and then … */
const wanderCycles = 100;
const lookEvery = 6;
/** … starting from a part of it (common practice, no source) that weighs as so many looks, with a
 * memory of so many, each clipped as a step is no wander. */
const wanderPart = 0.0012;
const wanderLooks = 30;
const wanderMemory = 300;
const wanderClip = 3.5;
/** Steps followed at once; a neighbour's tacks are fewer. */
const mostFollowed = 16;
/** Own current may move the open-circuit voltage, by its uncertain part, this much of it. */
const ownPart = 0.001;

/** Volts at the sensor, and own fundamental amperes along and across them. */
interface Level {
  volts: number;
  along: number;
  across: number;
}

/** Steps that came close together. */
interface Group {
  /** Where the first was, the level before it, and the furthest from that since. */
  since: number;
  before: Level;
  openVolts: number;
  most: number;
}

interface Followed {
  event: OtherLoadEvent;
  group: Group;
}

/**
 * What is left of a step of the open-circuit voltage three seconds later, or as late as the stream
 * has come. Steps within that time of each other are one group, held against the level before the
 * first: a dip and its recovery leave nothing, a motor's start leaves what it draws when it runs.
 */
export class StepRemainder {
  readonly #ring: CycleRing;
  readonly #followed: Followed[] = [];
  readonly #now: Level = { volts: 0.5, along: 0.5, across: 0.5 };
  readonly #then: Level = { volts: 0.5, along: 0.5, across: 0.5 };
  /** Mean square of the level's change over `wanderCycles`. */
  #wander = 0.5;
  #looks = 0;
  #cycles = 0;

  constructor(ring: CycleRing) {
    this.#ring = ring;
    this.#wander = 0;
  }

  /** Follows a step that lies `age` cycles back at least, with the ohms that are known now. */
  begin(event: OtherLoadEvent, age: number, ohmsR: number, ohmsX: number): void {
    const [last] = this.#followed.slice(-1);
    const grouped = last !== undefined && event.at - last.group.since <= this.#span();
    if (this.#followed.length === mostFollowed) this.#followed.shift();
    const group = grouped ? last.group : this.#group(event, age, ohmsR, ohmsX);
    event.openVolts = group.openVolts;
    this.#followed.push({ event, group });
  }

  #group(event: OtherLoadEvent, age: number, ohmsR: number, ohmsX: number): Group {
    const before = { volts: 0, along: 0, across: 0 };
    this.#level(Math.min(age, this.#ring.size - side), before);
    const openVolts = openOf(before, ohmsR, ohmsX);
    return { since: event.at, before, openVolts, most: event.volts };
  }

  /** Takes the newest cycle. `ohmsUnsure`: how wrong ohmsR + j·ohmsX may be. */
  cycle(ohmsR: number, ohmsX: number, ohmsUnsure: number): void {
    if (this.#followed.length === 0) {
      if (++this.#cycles % lookEvery === 0) this.#look(ohmsR, ohmsX, ohmsUnsure);
      return;
    }
    const ring = this.#ring;
    const newest = ring.slot(0);
    const end = ring.end[newest]!;
    while (this.#followed.length > 0 && end - this.#followed[0]!.event.at > this.#span())
      this.#followed.shift();
    this.#level(0, this.#now);
    const { along, across } = this.#now;
    const volts = openOf(this.#now, ohmsR, ohmsX);
    for (const { event, group } of this.#followed) {
      const { before, since } = group;
      const own = ohmsUnsure * Math.hypot(along - before.along, across - before.across);
      // What own current may have done is not to be told from what is left.
      if (own > ownPart * volts && event.lastsVolts !== null) continue;
      const cycles = ((end - since) * ring.hertz[newest]!) / this.#second();
      // With the ohms that are known by now, which an arc's edge may have taught since.
      const moved = volts - openOf(before, ohmsR, ohmsX);
      event.lastsVolts = moved;
      if (own <= ownPart * volts && Math.abs(moved) > Math.abs(group.most)) group.most = moved;
      event.mostVolts = group.most;
      event.lastsHalfWidthVolts = 2 * this.#wandered(volts, cycles) + own;
    }
  }

  /** Standard deviation of the level's own change over so many cycles: a random walk. */
  #wandered(volts: number, cycles: number): number {
    const start = (wanderPart * volts) ** 2;
    const known = Math.min(this.#looks, wanderMemory);
    const square = (wanderLooks * start + known * this.#wander) / (wanderLooks + known);
    return Math.sqrt((square * cycles) / wanderCycles);
  }

  #look(ohmsR: number, ohmsX: number, ohmsUnsure: number): void {
    const ring = this.#ring;
    if (ring.size < wanderCycles + side) return;
    const [now, then] = [ring.slot(0), ring.slot(wanderCycles)];
    const cycle = ring.end[now]! - ring.start[now]!;
    if (ring.start[now]! - ring.start[then]! > (wanderCycles + 0.5) * cycle) return;
    this.#level(0, this.#now);
    this.#level(wanderCycles, this.#then);
    const { along, across } = this.#now;
    const volts = openOf(this.#now, ohmsR, ohmsX);
    const own = Math.hypot(along - this.#then.along, across - this.#then.across);
    const most = wanderClip * this.#wandered(volts, wanderCycles);
    if (ohmsUnsure * own > most / 10) return;
    const change = Math.min(Math.abs(volts - openOf(this.#then, ohmsR, ohmsX)), most);
    this.#looks = Math.min(this.#looks + 1, wanderMemory);
    this.#wander += (change * change - this.#wander) / this.#looks;
  }

  /** The stream breaks: what was left is as it was last seen. */
  clear(): void {
    this.#followed.length = 0;
  }

  #span(): number {
    return followS * this.#second();
  }

  /** Samples of a second, by the newest cycle. */
  #second(): number {
    const slot = this.#ring.slot(0);
    return (this.#ring.end[slot]! - this.#ring.start[slot]!) * this.#ring.hertz[slot]!;
  }

  /** Mean of the three cycles that begin `age` cycles back. */
  #level(age: number, into: Level): void {
    const ring = this.#ring;
    into.volts = into.along = into.across = 0;
    for (let k = 0; k < side; k++) {
      const slot = ring.slot(age + k);
      const volts = ring.openVolts(slot, 0, 0);
      into.volts += volts / side;
      into.along += ring.along(slot) / volts / side;
      into.across += ring.across(slot) / volts / side;
    }
  }
}

/** |V + Z·I| of a level. */
const openOf = ({ volts, along, across }: Level, ohmsR: number, ohmsX: number): number =>
  Math.hypot(volts + ohmsR * along - ohmsX * across, ohmsR * across + ohmsX * along);
