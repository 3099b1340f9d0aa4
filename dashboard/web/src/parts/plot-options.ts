import uPlot from 'uplot';
import { clock, dayOfYear, figure, minute, plain } from './format.ts';
import { drawPairs } from './pair-marks.ts';
import { timeZone } from './preferences.ts';
import { words } from './words.ts';

export interface Line {
  label: string;
  unit: string;
  /** Name of a custom property with the line's colour. */
  ink: string;
  dash?: number[];
  /** 1-based pair, written on the line where several are drawn: colour alone tells nobody. */
  pair?: number;
}

export interface ChartFacts {
  /** What the chart shows, in a sentence; a screen reader gets it with the table below. */
  says: string;
  xLabel: string;
  /** First column x, then one a line; null marks a gap. */
  columns: (number | null)[][];
  lines: Line[];
  /** A band of y values of the first line's unit drawn behind, such as what the plate permits. */
  band?: readonly [number, number] | null;
  /** Stretches of x to point out: where a finding speaks of. */
  places?: readonly (readonly [number, number])[];
  /** Pairs of lines, lowest and highest, with the room between them filled. */
  spans?: readonly (readonly [low: number, high: number])[];
  /** Room above and below flat lines, in their unit; 0.5 where none is said. */
  leastRoom?: number;
  /** x of events to point out, each with a line and a mark on top. */
  marks?: readonly number[];
  /** Dots: at every value; or, at `close`, where so few are seen that each has its place. */
  dots?: 'all' | 'close';
  /** Lines run on over nulls: its columns have their values at different x. */
  joined?: boolean;
  /** Shortest stretch of x that one can look at. */
  closest?: number;
  height?: number;
  /** Says nothing on paper, where nobody looks closer. */
  offPaper?: boolean;
  /** The first unit's lines keep to the upper part and the second's to the lower. */
  apart?: boolean;
  /** x counts epoch seconds and is shown as time of day. */
  ofDay?: boolean;
  /** x of the whole picture, where it is not that of the columns. */
  whole?: readonly [number, number];
  decimals?: number;
}

/** uPlot's options for a chart of ours: calm axes, one scale a unit, the band behind all. */
export function plotOptions(facts: ChartFacts, width: number): uPlot.Options {
  const style = getComputedStyle(document.documentElement);
  const ink = (name: string) => style.getPropertyValue(name).trim();
  const units = [...new Set(facts.lines.map((line) => line.unit))];
  const first = units[0] ?? '';
  const axis = {
    stroke: ink('--ink-soft'),
    grid: { stroke: ink('--line'), width: 1 },
    font: `13px ${ink('--face')}`,
    labelFont: `13px ${ink('--face')}`,
  };
  return {
    width,
    height: facts.height ?? 220,
    tzDate: inZone,
    scales: {
      x: { time: facts.ofDay === true },
      ...Object.fromEntries(
        units.map((unit, at) => [unit, { range: yRange(facts, at, at === 0 ? facts.band : null) }]),
      ),
    },
    // Room for half of the last tick's figure, or time of day.
    padding: [null, facts.ofDay ? 30 : 14, null, null],
    legend: {
      live: true,
      markers: { dash: (_plot, at) => (facts.lines[at - 1]?.dash ? 'dashed' : 'solid') },
    },
    axes: [
      { ...axis, ...xAxis(facts) },
      ...units.map((unit, index) => ({
        ...axis,
        ...{ scale: unit, label: unit, labelSize: 20, size: 52, values: plainTicks },
        ...(facts.apart ? { filter: ownPart(index) } : {}),
        side: index === 0 ? (3 as const) : (1 as const),
        grid: index === 0 ? { ...axis.grid, ...(facts.apart ? { filter: ownPart(0) } : {}) } : none,
      })),
    ],
    series: [
      xSeries(facts),
      ...facts.lines.map((line) => ({
        label: `${line.label} (${line.unit})`,
        scale: line.unit,
        stroke: ink(line.ink),
        width: 1.75,
        spanGaps: facts.joined === true,
        points: { show: dotsOf(facts), size: 5 },
        ...(line.dash ? { dash: line.dash } : {}),
        value: (_plot: uPlot, value: number | null) => figure(value, facts.decimals ?? 2),
      })),
    ],
    bands: (facts.spans ?? []).map(([low, high]) => ({
      series: [high + 1, low + 1] as [number, number],
      fill: `${ink(facts.lines[low]?.ink ?? '--accent')}40`,
    })),
    hooks: {
      drawClear: [(plot) => drawBehind(plot, facts, first, ink)],
      draw: [(plot) => drawPairs(plot, facts, ink)],
    },
  };
}

const none = { show: false };

/** Pixels that a dot of a single sample needs around it. */
const dotRoom = 10;

function dotsOf({ dots }: ChartFacts): uPlot.Series.Points.Show {
  if (dots === 'all') return true;
  if (dots !== 'close') return false;
  return (plot, _series, first, last) => (last - first) * dotRoom < plot.width;
}

const timeOfDay = (seconds: number, spanS: number) =>
  spanS > 2 * 86_400 ? dayOfYear(seconds * 1_000) : minute(seconds * 1_000);

/** Ticks fall on whole hours and days of the shop's time zone. */
const inZone = (seconds: number): Date => {
  const zone = timeZone.value;
  const date = new Date(seconds * 1_000);
  return zone === undefined ? date : uPlot.tzDate(date, zone);
};

/** Down to microseconds: a chart may be looked at from minutes to single samples. */
const plainTicks = (_plot: uPlot, ticks: (number | null)[]) =>
  ticks.map((each) => (each === null ? '' : plain(each, 6)));

function xAxis({ xLabel, ofDay }: ChartFacts): uPlot.Axis {
  if (!ofDay)
    return { size: 34, values: plainTicks, ...(xLabel ? { label: xLabel, labelSize: 20 } : {}) };
  return {
    size: 34,
    // "12:30 PM" with room beside it.
    space: 80,
    // No tick finer than a minute: the labels have none.
    incrs: [
      60,
      120,
      300,
      600,
      1_800,
      3_600,
      7_200,
      14_400,
      43_200,
      86_400,
      7 * 86_400,
      28 * 86_400,
    ],
    values: (_plot, ticks) => {
      const span = (ticks.at(-1) ?? 0) - (ticks[0] ?? 0);
      return ticks.map((seconds) => timeOfDay(seconds, span));
    },
  };
}

function xSeries({ xLabel, ofDay }: ChartFacts): uPlot.Series {
  if (ofDay)
    return {
      label: words.parts.chart.time,
      value: (_plot, value) => (value ? clock(value * 1_000) : '–'),
    };
  return { label: xLabel, value: (_plot, value) => figure(value, 4) };
}

/** Of the height, that of the first unit's lines where two are kept apart. */
const upper = 0.6;

/** Ticks that lie where a unit's lines do. */
const ownPart =
  (index: number): uPlot.Axis.Filter =>
  (plot, ticks, axis) => {
    const { min = 0, max = 1 } = plot.scales[plot.axes[axis]?.scale ?? ''] ?? {};
    const border = max - upper * (max - min);
    return ticks.map((at) => ((index === 0 ? at >= border : at <= border) ? at : null));
  };

/** What was measured and the whole of the band, with a little room; flat lines get some too. */
const yRange =
  (facts: ChartFacts, index: number, band: ChartFacts['band']): uPlot.Range.Function =>
  (_plot, min, max) => {
    const [low, high] = ownRange(facts, band, min, max);
    if (!facts.apart) return [low, high];
    const part = index === 0 ? upper : 1 - upper;
    const rest = ((high - low) * (1 - part)) / part;
    return index === 0 ? [low - rest, high] : [low, high + rest];
  };

function ownRange(
  facts: ChartFacts,
  band: ChartFacts['band'],
  min: number | null,
  max: number | null,
): [number, number] {
  if (min === null || max === null) return band ? [band[0] * 0.98, band[1] * 1.02] : [0, 1];
  const least = band ? Math.min(min, band[0]) : min;
  const most = band ? Math.max(max, band[1]) : max;
  const room = Math.max((most - least) * 0.06, facts.leastRoom ?? 0.5);
  return [least >= 0 && least < room ? 0 : least - room, most + room];
}

type Ink = (name: string) => string;

function drawBehind(plot: uPlot, facts: ChartFacts, scale: string, ink: Ink): void {
  const { left, top, width, height } = plot.bbox;
  const { ctx } = plot;
  if (facts.band) {
    const clamp = (y: number) => Math.min(top + height, Math.max(top, y));
    const high = clamp(plot.valToPos(facts.band[1], scale, true));
    const low = clamp(plot.valToPos(facts.band[0], scale, true));
    ctx.fillStyle = ink('--rung');
    ctx.fillRect(left, high, width, Math.max(0, low - high));
    ctx.fillStyle = ink('--ink');
    ctx.fillRect(left, low, width, 2 * devicePixelRatio);
  }
  ctx.fillStyle = `${ink('--accent')}30`;
  for (const [from, to] of facts.places ?? []) {
    const x = Math.max(left, plot.valToPos(from, 'x', true));
    const end = Math.min(left + width, plot.valToPos(to, 'x', true));
    if (end >= left && x <= left + width)
      ctx.fillRect(x, top, Math.max(end - x, 3 * devicePixelRatio), height);
  }
  ctx.fillStyle = ink('--ink');
  drawMarks(plot, facts.marks ?? []);
}

/** Marks with less than this many pixels for each keep their wedges alone. */
const hairRoom = 30;

/** A wedge on the upper edge and a hair line under it; hundreds would hide what they point at. */
function drawMarks(plot: uPlot, marks: readonly number[]): void {
  const { ctx, bbox } = plot;
  const seen = marks
    .map((at) => plot.valToPos(at, 'x', true))
    .filter((x) => x >= bbox.left && x <= bbox.left + bbox.width);
  const few = seen.length * hairRoom * devicePixelRatio <= bbox.width;
  const size = (few ? 6 : 3) * devicePixelRatio;
  for (const x of seen) {
    if (few) ctx.fillRect(x - devicePixelRatio / 2, bbox.top, devicePixelRatio, bbox.height);
    ctx.beginPath();
    ctx.moveTo(x - size, bbox.top);
    ctx.lineTo(x + size, bbox.top);
    ctx.lineTo(x, bbox.top + 1.5 * size);
    ctx.fill();
  }
}
