import type { Signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import { ChartTable } from './chart-table.tsx';
import { followTouch } from './chart-touch.ts';
import { followWheel } from './chart-wheel.ts';
import { type Extent, moved, wholeOf, zoomed } from './extent.ts';
import { type ChartFacts, plotOptions } from './plot-options.ts';
import { theme } from './theme.ts';
import { words } from './words.ts';

interface ChartProps {
  facts: ChartFacts;
  /** What is looked at, shared by charts that stand under one another; null is all of it. */
  extent?: Signal<Extent | null>;
  /** False for a chart whose window is moved from elsewhere. */
  tools?: boolean;
}

/** uPlot in a frame that is zoomed by buttons, keys, mouse and touch, read aloud and printed. */
export function Chart({ facts, extent, tools = extent !== undefined }: ChartProps) {
  const frame = useRef<HTMLElement>(null);
  const ink = theme.value;
  const plot = useRef<uPlot | null>(null);
  // New columns in the same lines go into the plot that stands: fingers stay on it.
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const drawn = draw(element, facts, extent);
    plot.current = drawn.plot;
    return drawn.stop;
  }, [shapeOf(facts), extent, ink]);
  useEffect(() => {
    const standing = plot.current;
    if (!standing || standing.data === (facts.columns as unknown)) return;
    standing.setData(facts.columns as uPlot.AlignedData, false);
    const [min, max] = extent?.peek() ?? wholeOf(facts);
    standing.setScale('x', { min, max });
  }, [facts]);
  const look = (change: Change) => {
    if (!extent) return;
    const whole = wholeOf(facts);
    extent.value = change(extent.value ?? whole, whole, facts.closest);
  };
  return (
    <figure class={facts.offPaper ? 'chart no-print' : 'chart'}>
      <figcaption>{facts.says}</figcaption>
      {tools && <ChartTools look={look} />}
      <section
        ref={frame}
        class="frame"
        aria-label={facts.says}
        {...(extent ? { tabIndex: 0, onKeyDown: (event) => onKey(event, look) } : {})}
      />
      <ChartTable facts={facts} />
    </figure>
  );
}

const shapeOf = ({ columns, says: _, ...shape }: ChartFacts): string =>
  JSON.stringify([shape, shape.whole ? null : [columns[0]?.[0], columns[0]?.at(-1)]]);

type Change = (now: Extent, whole: Extent, closest?: number) => Extent | null;
type Look = (change: Change) => void;

const steps: Record<string, Change> = {
  ArrowLeft: (now, whole) => moved(now, -0.25, whole),
  ArrowRight: (now, whole) => moved(now, 0.25, whole),
  '+': (now, whole, closest) => zoomed(now, 0.5, whole, undefined, closest),
  '=': (now, whole, closest) => zoomed(now, 0.5, whole, undefined, closest),
  '-': (now, whole) => zoomed(now, 2, whole),
  Home: () => null,
};

function onKey(event: KeyboardEvent, look: Look): void {
  const step = steps[event.key];
  if (!step || event.ctrlKey || event.metaKey || event.altKey) return;
  event.preventDefault();
  look(step);
}

const buttons = [
  ['+', '+'],
  ['-', '−'],
  ['ArrowLeft', '←'],
  ['ArrowRight', '→'],
  ['Home', '↔'],
] as const;

function ChartTools({ look }: { look: Look }) {
  return (
    <div class="chart-tools">
      {buttons.map(([key, sign]) => (
        <button key={key} type="button" onClick={() => look(steps[key]!)}>
          <span aria-hidden="true">{sign}</span> {words.parts.chart.tools[key]}
        </button>
      ))}
    </div>
  );
}

/**
 * Pixels of a chart on A4 between its margins; letter is a little wider. Before it prints, a page
 * still has the width of its window, which is a desk's or a phone's.
 */
const paper = { width: 660, height: 130 };

function draw(element: HTMLElement, facts: ChartFacts, extent?: Signal<Extent | null>) {
  const height = facts.height ?? 220;
  const options = plotOptions(facts, element.clientWidth);
  const whole = wholeOf(facts);
  const select = (plot: uPlot) => {
    if (plot.select.width < 4 || !extent) return;
    const { left, width } = plot.select;
    const drawn = [plot.posToVal(left, 'x'), plot.posToVal(left + width, 'x')] as const;
    extent.value = zoomed(drawn, 1, whole, undefined, facts.closest);
    plot.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
  };
  const plot = new uPlot(
    {
      ...options,
      cursor: {
        drag: { x: extent !== undefined, y: false, setScale: false },
        // Two clicks show all again, of every chart that moves with this one.
        bind: {
          dblclick: () => () => {
            if (extent) extent.value = null;
            return null;
          },
        },
      },
      hooks: { ...options.hooks, setSelect: [select] },
    },
    facts.columns as uPlot.AlignedData,
    element,
  );
  const show = (now: Extent | null) => {
    const [min, max] = now ?? whole;
    plot.setScale('x', { min, max });
  };
  const stop = extent?.subscribe(show) ?? show(null);
  const follow = [followTouch, followWheel].map((each) =>
    extent ? each(plot.over, extent, whole, facts.closest) : undefined,
  );
  const resize = () => plot.setSize({ width: element.clientWidth, height });
  const onPaper = () =>
    plot.setSize({ width: paper.width, height: Math.min(height, paper.height) });
  const watch = new ResizeObserver(resize);
  watch.observe(element);
  addEventListener('beforeprint', onPaper);
  addEventListener('afterprint', resize);
  return {
    plot,
    stop: () => {
      removeEventListener('beforeprint', onPaper);
      removeEventListener('afterprint', resize);
      watch.disconnect();
      for (const unfollow of follow) unfollow?.();
      stop?.();
      plot.destroy();
    },
  };
}
