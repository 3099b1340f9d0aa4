import { useEffect, useRef, useState } from 'preact/hooks';
import uPlot from 'uplot';
import { type Circuit, clockOffsetMs } from '../live/floor-state.ts';
import { pairInk } from '../parts/pair-marks.ts';
import { bandOf, pairBand } from '../parts/plate-band.ts';
import { type ChartFacts, plotOptions } from '../parts/plot-options.ts';
import { theme } from '../parts/theme.ts';
import { words } from '../parts/words.ts';

/** Seconds on a strip. */
const spanS = 60;
/** Rows come in batches; a strip that steps five times a second reads as moving. */
const drawEveryMs = 200;
const kinds = [
  ['volts', 'V'],
  ['amps', 'A'],
  ['watts', 'W'],
] as const;

/** The last minute, half cycle by half cycle: volts on the plate's band, amperes, power. */
export function LiveStrips({ circuit }: { circuit: Circuit }) {
  const [still, setStill] = useState(false);
  return (
    <section>
      <div class="head">
        <h2>{words.circuit.live.heading}</h2>
        <button type="button" aria-pressed={still} onClick={() => setStill(!still)}>
          {still ? words.circuit.live.goOn : words.circuit.live.hold}
        </button>
      </div>
      {kinds.map(([key, unit], kind) => (
        <Strip key={key} {...{ circuit, what: words.circuit.live[key], unit, kind, still }} />
      ))}
    </section>
  );
}

interface StripProps {
  circuit: Circuit;
  what: string;
  unit: string;
  /** Which third of the recent rows' columns. */
  kind: number;
  still: boolean;
}

function Strip({ circuit, what, unit, kind, still }: StripProps) {
  const frame = useRef<HTMLDivElement>(null);
  const held = useRef(still);
  held.current = still;
  const ink = theme.value;
  const { circuit: described, plate } = circuit.sensor.value;
  useEffect(() => {
    const element = frame.current;
    if (!element) return;
    const facts = stripFacts(circuit, what, unit, kind === 0);
    const plot = new uPlot(plotOptions(facts, element.clientWidth), [[0]], element);
    const show = () => {
      if (!held.current) plot.setData(stripColumns(circuit, kind));
    };
    const resize = () => plot.setSize({ width: element.clientWidth, height: facts.height ?? 150 });
    const watch = new ResizeObserver(resize);
    watch.observe(element);
    show();
    const timer = setInterval(show, drawEveryMs);
    return () => {
      clearInterval(timer);
      watch.disconnect();
      plot.destroy();
    };
  }, [circuit, circuit.recent, unit, kind, ink, described, plate]);
  const says = words.circuit.live.says(what, spanS);
  return (
    <figure class="chart strip">
      <figcaption>
        {what}
        {kind === 0 && plate && <small> {words.circuit.live.onBand}</small>}
      </figcaption>
      <div ref={frame} class="frame" role="img" aria-label={says} />
    </figure>
  );
}

function stripFacts(circuit: Circuit, what: string, unit: string, banded: boolean): ChartFacts {
  const { circuit: described, plate, lastArc } = circuit.sensor.peek();
  const nominal = described?.circuit.volts ?? null;
  const volts = circuit.reading.peek()?.volts ?? [];
  const whole = bandOf(plate?.plate ?? null, described?.circuit ?? null);
  const { pairs } = circuit.recent;
  return {
    says: what,
    xLabel: '',
    columns: [],
    lines: Array.from({ length: pairs }, (_, pair) => ({
      label: pairs > 1 ? words.circuit.pair(pair + 1) : what,
      unit,
      ink: pairInk(pair),
      pair: pair + 1,
    })),
    band: banded && volts.length > 0 ? pairBand(whole, volts, nominal, lastArc?.terminals) : null,
    height: 150,
    decimals: unit === 'W' ? 0 : 1,
  };
}

function stripColumns(circuit: Circuit, kind: number): uPlot.AlignedData {
  const { pairs } = circuit.recent;
  const [x = [], ...columns] = circuit.recent.chart(Date.now() + clockOffsetMs.peek(), spanS);
  // The strip's two ends are always drawn, so that it moves and does not stretch.
  const ends = (column: (number | null)[], first: number | null, last: number | null) => [
    first,
    ...column,
    last,
  ];
  const own = columns.slice(kind * pairs, (kind + 1) * pairs);
  return [ends(x, -spanS - 0.001, 0), ...own.map((column) => ends(column, null, null))] as never;
}
