import type { ChartFacts } from './plot-options.ts';

/** A stretch of a chart's x. */
export type Extent = readonly [from: number, to: number];

export function wholeOf({ columns, whole }: ChartFacts): Extent {
  const x = columns[0] ?? [];
  return whole ?? [x[0] ?? 0, x.at(-1) ?? 1];
}

/** As much as ten thousand times closer, where a chart does not say how close it goes. */
const closest = 1e-4;

/** Longer or shorter about `about` (or its middle), never beyond the whole; null is all of it. */
export function zoomed(
  [from, to]: Extent,
  factor: number,
  whole: Extent,
  about = (from + to) / 2,
  least = (whole[1] - whole[0]) * closest,
): Extent | null {
  const most = whole[1] - whole[0];
  const length = Math.max((to - from) * factor, least);
  if (length >= most) return null;
  const part = (about - from) / (to - from);
  return within(about - part * length, length, whole);
}

/** Moved by a part of its own length, never beyond the whole. */
export function moved([from, to]: Extent, part: number, whole: Extent): Extent {
  return within(from + part * (to - from), to - from, whole);
}

function within(from: number, length: number, whole: Extent): Extent {
  const start = Math.min(Math.max(from, whole[0]), Math.max(whole[0], whole[1] - length));
  return [start, start + length];
}
