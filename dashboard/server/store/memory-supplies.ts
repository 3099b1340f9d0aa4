import type {
  FirstSupplies,
  NewOtherLoad,
  NewSupply,
  OtherLoadQuery,
  SupplyQuery,
} from './store.ts';

const dayUs = 86_400_000_000;

/** Supplies and other loads of the store without a disk. */
export class MemorySupplies {
  #supplies: NewSupply[] = [];
  #loads: NewOtherLoad[] = [];

  add(supply: NewSupply): void {
    const same = (one: NewSupply) => samePlace(one, supply) && one.pair === supply.pair;
    if (!this.#supplies.some(same)) this.#supplies.push(structuredClone(supply));
    this.#supplies.sort((a, b) => a.atUs - b.atUs || a.pair - b.pair);
  }

  addLoad(load: NewOtherLoad): void {
    const { channel } = load.event;
    const same = (one: NewOtherLoad) => samePlace(one, load) && one.event.channel === channel;
    if (!this.#loads.some(same)) this.#loads.push(structuredClone(load));
    this.#loads.sort((a, b) => a.atUs - b.atUs || a.event.channel - b.event.channel);
  }

  list({ sensor, fromUs, toUs, bucketUs }: SupplyQuery): NewSupply[] {
    const last = new Map<string, NewSupply>();
    for (const one of this.#supplies)
      if (one.sensor === sensor && one.atUs >= fromUs && one.atUs < toUs)
        last.set(`${one.pair} ${Math.floor((one.atUs - fromUs) / bucketUs)}`, one);
    return [...last.values()].sort((a, b) => a.atUs - b.atUs || a.pair - b.pair);
  }

  newest(sensor: string, limit: number): NewSupply[] {
    const own = this.#supplies.filter((one) => one.sensor === sensor);
    return own.reverse().slice(0, limit);
  }

  first({ sensor, wiring, spanUs, limit }: FirstSupplies): NewSupply[] {
    const own = this.#supplies.filter((one) => one.sensor === sensor && one.wiring === wiring);
    return own.filter((one) => one.atUs <= own[0]!.atUs + spanUs).slice(0, limit);
  }

  loads({ sensor, fromUs, toUs, limit }: OtherLoadQuery): NewOtherLoad[] {
    return this.#loads
      .filter((one) => one.sensor === sensor && one.atUs >= fromUs && one.atUs < toUs)
      .slice(0, limit);
  }

  sweep(fromUs: number): { supplies: number; otherLoads: number } {
    const before = [this.#supplies.length, this.#loads.length] as const;
    const last = new Map<string, NewSupply>();
    const day = (one: NewSupply) =>
      [one.sensor, one.pair, one.wiring, Math.floor(one.atUs / dayUs)].join(' ');
    for (const one of this.#supplies) last.set(day(one), one);
    this.#supplies = this.#supplies.filter(
      (one) => one.atUs >= fromUs || last.get(day(one)) === one,
    );
    this.#loads = this.#loads.filter((one) => one.atUs >= fromUs);
    return {
      supplies: before[0] - this.#supplies.length,
      otherLoads: before[1] - this.#loads.length,
    };
  }
}

type Place = Pick<NewSupply, 'sensor' | 'boot' | 'sample'>;
const samePlace = (a: Place, b: Place) =>
  a.sensor === b.sensor && a.boot === b.boot && a.sample === b.sample;
