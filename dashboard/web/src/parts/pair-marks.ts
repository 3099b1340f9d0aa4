import type uPlot from 'uplot';
import type { ChartFacts } from './plot-options.ts';

const inks = ['--accent', '--marginal', '--adequate'];

/** The ink of a pair's lines, counted from 0. */
export const pairInk = (pair: number): string => inks[pair] ?? '--accent';

/** Of the picture's width: each pair's number stands a little after the one before. */
const places = [0.1, 0.6];
const aside = 0.08;
/** Columns of pairs that were read in turn hold each other's gaps. */
const mostAside = 3;
type Column = ArrayLike<number | null | undefined>;

/** Where a line is at an x, between the values on either side; null where it has none. */
export function lineAt(x: Column, column: Column, closest: number, at: number): number | null {
  const beside = (step: 1 | -1): number | null => {
    for (let index = closest - step, n = 0; n <= mostAside + 1; index += step, n++)
      if (column[index] != null && step * (x[index]! - at) >= 0) return index;
    return null;
  };
  const [before, after] = [beside(-1), beside(1)];
  if (before === null || after === null) return null;
  const span = x[after]! - x[before]!;
  const part = span === 0 ? 0 : (at - x[before]!) / span;
  return column[before]! + part * (column[after]! - column[before]!);
}

/**
 * Writes each pair's number on its line, for who does not see the colours and on paper; where there
 * is one pair alone, nothing.
 */
export function drawPairs(plot: uPlot, { lines }: ChartFacts, ink: (name: string) => string): void {
  if (!lines.some(({ pair = 1 }) => pair > 1)) return;
  const { ctx } = plot;
  const size = 8 * devicePixelRatio;
  ctx.save();
  ctx.font = `600 ${1.5 * size}px ${ink('--face')}`;
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  ctx.lineWidth = 1.5 * devicePixelRatio;
  for (const [line, { pair, unit, ink: name }] of lines.entries())
    for (const place of pair === undefined ? [] : places) {
      const pixel = (place + aside * (pair! - 1)) * plot.over.clientWidth;
      const [column = [], at] = [plot.data[line + 1], plot.posToVal(pixel, 'x')];
      const value = lineAt(plot.data[0], column, plot.posToIdx(pixel), at);
      if (value === null) continue;
      const [x, y] = [plot.valToPos(at, 'x', true), plot.valToPos(value, unit, true)];
      ctx.fillStyle = ink('--sheet');
      ctx.strokeStyle = ink(name);
      ctx.beginPath();
      ctx.arc(x, y, size, 0, 2 * Math.PI);
      ctx.fill();
      ctx.stroke();
      ctx.fillStyle = ink('--ink');
      ctx.fillText(String(pair), x, y);
    }
  ctx.restore();
}
