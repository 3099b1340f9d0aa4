import type { Fault } from '../../simulator/ports/faults.ts';
import type { ServerFault } from './world.ts';

export interface StoryArc {
  from: number;
  to: number;
  amps: number;
}

/** What happens in one run, drawn from a seed. */
export interface Story {
  /** Runs of the same number have the same arcs. */
  arcsOf: number;
  arcs: StoryArc[];
  faults: Fault[];
  server: ServerFault;
}

export const storySeconds = 12;
/** Sets of arcs: few, since each is run once without a fault for comparison. */
const arcSets = 8;

/** Mulberry32: small, seeded, good enough to draw faults by. */
export function chance(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** Three to five arcs, from tacks to a bead of three seconds, light to heavy. */
export function arcsOf(set: number): StoryArc[] {
  const draw = chance(set * 7_919 + 1);
  const arcs: StoryArc[] = [];
  for (let at = 1.2 + draw(); at < storySeconds - 3.5; ) {
    const length = draw() < 0.3 ? 0.25 + 0.3 * draw() : 0.6 + 2 * draw();
    arcs.push({ from: at, to: at + length, amps: 8 + 20 * draw() });
    at += length + 0.7 + 1.5 * draw();
  }
  return arcs;
}

const s = 1e6;

export function storyOf(seed: number): Story {
  const draw = chance(seed);
  const arcsSet = seed % arcSets;
  const from = () => Math.floor((0.5 + (storySeconds - 2) * draw()) * s);
  const span = (most: number) => {
    const start = from();
    return { from: start, to: start + Math.floor((0.1 + most * draw()) * s) };
  };
  const kinds: (() => Fault)[] = [
    () => ({ kind: 'adc-overrun', from: from(), frames: 1 + Math.floor(3_000 * draw()) }),
    () => ({ kind: 'adc-silent', ...span(4) }),
    () => ({ kind: 'clock-step', from: from(), micros: Math.floor((draw() - 0.5) * 2e9) }),
    () => ({ kind: 'clock-drift', ...span(8), ppm: 400 * (draw() - 0.5) }),
    () => ({ kind: 'clock-backwards', from: from(), micros: Math.floor(2 * s * draw()) }),
    () => ({ kind: 'link-lost', ...span(6) }),
    () => ({ kind: 'link-slow', ...span(6), micros: Math.floor(1.5 * s * draw()) }),
    () => ({ kind: 'link-duplicate', ...span(8) }),
    () => ({ kind: 'link-reorder', ...span(8) }),
    () => ({ kind: 'link-half-open', ...span(5) }),
    () => ({ kind: 'broker-restart', from: from() }),
    () => ({ kind: 'server-slow', ...span(6), micros: Math.floor(7 * s * draw()) }),
    () => ({ kind: 'flash-error', ...span(0.4) }),
    () => ({ kind: 'flash-power-cut', write: Math.floor(700 * draw()) }),
  ];
  const faults: Fault[] = [];
  for (let left = Math.floor(4 * draw()); left >= 0; left--)
    faults.push(kinds[Math.floor(kinds.length * draw())]!());
  const kills = draw() < 0.3 ? [from()] : [];
  const fails = draw() < 0.2 ? [span(3)] : [];
  const server = {
    killsAt: kills,
    storeFails: fails.map((fail) => [fail.from, fail.to] as const),
  };
  return { arcsOf: arcsSet, arcs: arcsOf(arcsSet), faults, server };
}
