import type { History } from '../../../../shared/protocol/http.ts';
import type { OtherLoadList } from '../../../../shared/protocol/http-supply.ts';
import type { Circuit } from '../live/floor-state.ts';
import { pairInk } from '../parts/pair-marks.ts';
import { bandOf, pairBand } from '../parts/plate-band.ts';
import type { ChartFacts } from '../parts/plot-options.ts';
import { words } from '../parts/words.ts';

type Column = (number | null)[];

/** Volts on the plate's band with the other loads marked, and amperes. */
export function historyFacts(
  answer: History,
  { events }: OtherLoadList,
  circuit: Circuit,
): ChartFacts[] {
  const say = words.circuit.history;
  const { circuit: described, plate, lastArc } = circuit.sensor.peek();
  const band = pairBand(
    bandOf(plate?.plate ?? null, described?.circuit ?? null),
    circuit.reading.peek()?.volts ?? [],
    described?.circuit.volts ?? null,
    lastArc?.terminals,
  );
  const from = Date.parse(answer.from) / 1_000;
  const time = answer.timeS.map((seconds) => from + seconds);
  const chart = (says: string, unit: string, min: Column[], max: Column[]): ChartFacts => ({
    says,
    xLabel: '',
    ofDay: true,
    whole: [from, Date.parse(answer.to) / 1_000],
    height: 180,
    decimals: 1,
    columns: [time, ...min.flatMap((column, pair) => [column, max[pair]!])],
    lines: min.flatMap((_, pair) =>
      [say.lowest, say.highest].map((which) => ({
        label: min.length > 1 ? `${which} ${pair + 1}` : which,
        unit,
        ink: pairInk(pair),
        ...(which === say.highest ? { pair: pair + 1 } : {}),
      })),
    ),
    spans: min.map((_, pair) => [2 * pair, 2 * pair + 1] as const),
  });
  const step = `${Math.round(answer.bucketS)} s`;
  const marked = events.length > 0 ? say.loads(events.length) : '';
  return [
    {
      ...chart(`${say.volts(step)}${marked}`, 'V', answer.voltsMin, answer.voltsMax),
      band,
      marks: events.map(({ at }) => Date.parse(at) / 1_000),
    },
    chart(say.amps(step), 'A', answer.ampsMin, answer.ampsMax),
  ];
}
