import type { ArcDetail, RowColumns } from '../../../../shared/protocol/http.ts';
import type { Extent } from '../parts/extent.ts';
import { figure, plain } from '../parts/format.ts';
import { pairInk } from '../parts/pair-marks.ts';
import { bandOf, pairBand } from '../parts/plate-band.ts';
import type { ChartFacts } from '../parts/plot-options.ts';
import { words } from '../parts/words.ts';
import { isAfar, type SeenWave } from './use-wave.ts';

/** Samples that still make a picture. */
const fewestSamples = 8;
export type Places = ChartFacts['places'];

export function rowsChart(rows: RowColumns, detail: ArcDetail, places: Places): ChartFacts {
  const { plate, circuit, arc, rateHz } = detail;
  const say = words.arc;
  const pairs = arc.channels.map((channel) => channel.idleVolts ?? channel.meanVolts);
  const { terminals } = detail.summary;
  const band = pairBand(bandOf(plate, circuit), pairs, circuit?.volts ?? null, terminals);
  const many = pairs.length > 1;
  const name = (what: string, pair: number) => (many ? say.ofPair(what, pair + 1) : what);
  const line = (what: string, unit: string, pair: number) => ({
    ...{ label: name(what, pair), unit, ink: pairInk(pair), pair: pair + 1 },
  });
  const permits = band ? say.permits(figure(band[0], 0), figure(band[1], 0)) : '';
  return {
    says: `${say.rows}${permits}${many && band ? say.aPair : ''}`,
    xLabel: say.x,
    columns: [rows.timeS, ...rows.volts, ...rows.amps],
    lines: [
      ...pairs.map((_, pair) => line(say.voltage, 'V', pair)),
      ...pairs.map((_, pair) => ({
        ...line(say.current, 'A', pair),
        ...(many ? {} : { ink: '--ink' }),
        dash: [6, 3],
      })),
    ],
    band,
    apart: true,
    height: 270,
    closest: fewestSamples / rateHz,
    ...(places ? { places } : {}),
  };
}

/** Volts above, amperes below: one over the other would hide both. */
export function waveCharts(
  seen: SeenWave,
  whole: Extent,
  { rateHz }: ArcDetail,
  places: Places,
): ChartFacts[] {
  const { wave } = seen;
  const say = words.arc;
  const afar = isAfar(wave);
  const step = afar ? wave.binS : 1 / wave.rateHz;
  const first = wave.startS + (afar ? step / 2 : 0);
  const columnsOf = (which: 'volts' | 'amps'): Float32Array[] =>
    afar ? wave[which].flatMap(({ low, high }) => [low, high]) : wave[which];
  const time = Array.from(
    { length: columnsOf('volts')[0]?.length ?? 0 },
    (_, n) => first + n * step,
  );
  const how = afar
    ? say.afar(`${plain(step * 1e3, 2)} ms`)
    : say.samples(plain(Math.round(rateHz), 0));
  const chart = (which: 'volts' | 'amps', unit: string, letter: string): ChartFacts => {
    const columns = columnsOf(which);
    const pairs = columns.length / (afar ? 2 : 1);
    return {
      says: `${say[which]}: ${how}`,
      xLabel: say.x,
      columns: [time, ...columns.map(column)],
      lines: columns.map((_, at) => {
        const pair = afar ? at >> 1 : at;
        const end = afar
          ? [words.circuit.history.lowest, words.circuit.history.highest][at & 1]
          : '';
        const label = `${letter}${pair + 1} ${end}`.trim();
        const line = { label, unit, ink: pairInk(pair) };
        return afar ? line : { ...line, pair: pair + 1 };
      }),
      ...(afar
        ? { spans: Array.from({ length: pairs }, (_, pair) => [2 * pair, 2 * pair + 1] as const) }
        : { dots: 'close' as const }),
      whole,
      closest: fewestSamples / rateHz,
      height: 190,
      // Thousands of cycles on a hand's breadth of paper are a black bar.
      offPaper: afar,
      ...(places ? { places } : {}),
    };
  };
  return [chart('volts', 'V', 'v'), chart('amps', 'A', 'i')];
}

/** uPlot knows a gap by null alone. */
const column = (values: Float32Array): (number | null)[] =>
  Array.from(values, (value) => (Number.isNaN(value) ? null : value));
