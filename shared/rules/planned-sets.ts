import type { Alternative, Duplicate, Further, MachineSet, Step } from '../protocol/planning.ts';
import { say } from './say.ts';
import { type Aim, bestCovers } from './smallest-set.ts';

/** A machine as the choice of a set sees it. */
export interface Candidate {
  name: string;
  price: number;
  owned: boolean;
  /** Indices of the needs that it covers here, ascending. */
  covers: readonly number[];
}

/** Ties that are listed; a person can weigh no more. */
const mostAlternatives = 16;

export interface Sets {
  smallest: MachineSet;
  cheapest: MachineSet;
  alternatives: Alternative[];
}

/**
 * The fewest machines to buy, and of those the cheapest, that with what is owned cover every need
 * that can be covered; and the least money. Both exact. What is owned is used before anything is
 * bought, and as little of it as does.
 */
export function machineSets(candidates: readonly Candidate[]): Sets {
  const owned = candidates.filter((each) => each.owned);
  const done = new Set(owned.flatMap((each) => each.covers));
  const offers = candidates.filter((each) => !each.owned);
  const open = needsOf(offers).filter((need) => !done.has(need));
  const setOf = (buy: Candidate[]) => complete(candidates, owned, buy);
  const fewest = purchases(offers, open, 'fewest').map(setOf);
  const least = purchases(offers, open, 'cheapest').map(setOf);
  const free = offers.map((each) => ({ ...each, price: 0 }));
  const asSmall = purchases(free, open, 'fewest')
    .map((buy) => setOf(buy.map(({ name }) => offers.find((each) => each.name === name)!)))
    .sort((a, b) => a.price - b.price);
  const smallest = fewest[0]!;
  const cheapest = least[0]!;
  return { smallest, cheapest, alternatives: alternatives(smallest, fewest, asSmall, least) };
}

function alternatives(
  smallest: MachineSet,
  equal: readonly MachineSet[],
  asSmall: readonly MachineSet[],
  least: readonly MachineSet[],
): Alternative[] {
  const told = new Set([keyOf(smallest)]);
  const fresh = (set: MachineSet) => {
    const isNew = !told.has(keyOf(set));
    told.add(keyOf(set));
    return isNew;
  };
  const dearer = (set: MachineSet) => set.price - smallest.price;
  const more = (set: MachineSet) => set.buy.length - smallest.buy.length;
  return [
    ...equal.filter(fresh).map((set) => ({ ...set, why: 'equal' as const, ...say('equalSet') })),
    ...least.filter(fresh).map((set) => ({
      ...set,
      why: 'cheapest' as const,
      ...say('cheapestSet', { less: -dearer(set), more: more(set) }),
    })),
    ...asSmall.filter(fresh).map((set) => ({
      ...set,
      why: 'as-small' as const,
      ...say('asSmallSet', { dearer: dearer(set) }),
    })),
  ].slice(0, mostAlternatives);
}

const keyOf = (set: MachineSet) => JSON.stringify(set.machines);

/**
 * Best sets to buy for the open needs. Offers that cover the same needs are one choice to the
 * search, at the least price among them; those of that price are told apart again after it.
 */
function purchases(offers: readonly Candidate[], open: readonly number[], aim: Aim): Candidate[][] {
  const place = new Map(open.map((need, index) => [need, index]));
  const kinds = new Map<string, { covers: number[]; members: Candidate[] }>();
  for (const offer of offers) {
    const covers = offer.covers.flatMap((need) => place.get(need) ?? []);
    if (covers.length === 0) continue;
    const key = covers.join();
    const kind = kinds.get(key);
    if (kind) kind.members.push(offer);
    else kinds.set(key, { covers, members: [offer] });
  }
  const choices = [...kinds.values()].map(({ covers, members }) => {
    const cost = Math.min(...members.map(({ price }) => price));
    return { covers, cost, members: members.filter(({ price }) => price === cost) };
  });
  return bestCovers(open.length, choices, aim, mostAlternatives)
    .flatMap(({ chosen }) => eachOf(chosen.map((index) => choices[index]!.members)))
    .slice(0, mostAlternatives);
}

/** One member of each list, in every way, up to the listed number. */
function eachOf(lists: readonly (readonly Candidate[])[]): Candidate[][] {
  return lists.reduce<Candidate[][]>(
    (ways, list) =>
      ways.flatMap((way) => list.map((member) => [...way, member])).slice(0, mostAlternatives),
    [[]],
  );
}

/** With the fewest of the owned that do what the bought ones do not. */
function complete(
  candidates: readonly Candidate[],
  owned: readonly Candidate[],
  buy: readonly Candidate[],
): MachineSet {
  const bought = new Set(buy.flatMap((each) => each.covers));
  const left = needsOf(owned).filter((need) => !bought.has(need));
  const [kept = []] = purchases(
    owned.map((each) => ({ ...each, price: 0 })),
    left,
    'fewest',
  );
  const chosen = new Set([...buy, ...kept].map(({ name }) => name));
  return {
    machines: candidates.filter(({ name }) => chosen.has(name)).map(({ name }) => name),
    price: sum(buy.map(({ price }) => price)),
    buy: candidates.filter((each) => buy.includes(each)).map(({ name }) => name),
  };
}

/** What is owned first, then always the one that adds most, and of those the cheapest. */
export function stepsOf(
  set: MachineSet,
  candidates: readonly Candidate[],
  needs: readonly string[],
): Step[] {
  const left = candidates.filter(({ name }) => set.machines.includes(name));
  const done = new Set<number>();
  const steps: Step[] = [];
  while (left.length > 0) {
    const news = (each: Candidate) => each.covers.filter((need) => !done.has(need));
    left.sort(
      (a, b) =>
        Number(b.owned) - Number(a.owned) || news(b).length - news(a).length || a.price - b.price,
    );
    const next = left.shift()!;
    const adds = news(next);
    for (const need of adds) done.add(need);
    const { name, price, owned } = next;
    steps.push({ machine: name, price, owned, adds: adds.map((need) => needs[need]!) });
  }
  return steps;
}

/** Each offer beside what is owned, the one that adds most first. */
export function furtherOf(candidates: readonly Candidate[], needs: readonly string[]): Further[] {
  const done = new Set(candidates.filter((each) => each.owned).flatMap((each) => each.covers));
  return candidates
    .filter((each) => !each.owned)
    .map(({ name, price, covers }) => ({
      machine: name,
      price,
      adds: covers.filter((need) => !done.has(need)).map((need) => needs[need]!),
    }))
    .sort((a, b) => b.adds.length - a.adds.length || a.price - b.price);
}

/** Owned machines all of whose covered needs other owned ones cover too. */
export function duplicatesOf(candidates: readonly Candidate[]): Duplicate[] {
  const owned = candidates.filter((each) => each.owned);
  return owned.flatMap((machine) => {
    const others = owned.filter((each) => each !== machine);
    const twice = machine.covers.every((need) => others.some((each) => each.covers.includes(need)));
    if (machine.covers.length === 0 || !twice) return [];
    const [by = []] = purchases(
      others.map((each) => ({ ...each, price: 0 })),
      machine.covers,
      'fewest',
    );
    const names = by.map(({ name }) => name);
    const { name } = machine;
    return [{ machine: name, by: names, ...say('coversToo', { machine: name, by: names }) }];
  });
}

const needsOf = (candidates: readonly Candidate[]): number[] =>
  [...new Set(candidates.flatMap((each) => each.covers))].sort((a, b) => a - b);

/** Whole cents: prices of 0.1 and 0.2 make 0.3. */
const sum = (prices: readonly number[]): number =>
  Math.round(100 * prices.reduce((total, price) => total + price, 0)) / 100;
