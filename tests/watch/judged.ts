import type { SensorClass } from '../../shared/metrology/uncertainty.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type { CouponBand } from '../../shared/rules/facts.ts';
import type { WatchEvents, WatchSetup } from '../../shared/watch/contract.ts';
import { Watch } from '../../shared/watch/watch.ts';

export const plate240: Plate = {
  name: 'bay welder',
  phases: 1,
  hertz: [50, 60],
  supply: [{ U1: 240, I1max: 30, I1eff: 15 }],
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
};

export const plate120: Plate = {
  name: 'small welder',
  phases: 1,
  supply: [{ U1: 120, I1max: 20, I1eff: 10 }],
};

interface Given {
  plate?: Plate;
  circuit?: Circuit;
  sensor?: SensorClass;
  coupon?: CouponBand | null;
}

export function watchOf(
  rateHz: number,
  pairs: number,
  given: Given & { keep?: number; quality?: boolean } = {},
  events: WatchEvents = {},
): Watch {
  const setup: WatchSetup = {
    rateHz,
    pairs,
    startedAt: null,
    nominalVolts: null,
    nominalHertz: null,
    plate: given.plate ?? null,
    circuit: given.circuit ?? null,
    sensor: given.sensor ?? null,
    coupon: given.coupon ?? null,
    quality: given.quality ?? false,
    keep: given.keep ?? 100,
  };
  return new Watch(setup, events);
}

/** Judges columns in one go, in blocks as a reader hands them. */
export function judged(
  rateHz: number,
  channels: readonly Float64Array[],
  given: Given = {},
  events: WatchEvents = {},
): Judgement {
  const watch = watchOf(rateHz, channels.length / 2, given, events);
  feed(watch, channels);
  watch.end();
  return watch.judgement('test');
}

export function feed(watch: Watch, channels: readonly Float64Array[], blockFrames = 4096): void {
  const frames = channels[0]?.length ?? 0;
  for (let from = 0; from < frames; from += blockFrames) {
    const block = channels.map((each) => each.subarray(from, from + blockFrames));
    watch.push(block, block[0]!.length);
  }
}

export const verdictOf = (judgement: Judgement, rule: string): string[] =>
  judgement.findings.filter((each) => each.rule === rule).map((each) => each.verdict);
