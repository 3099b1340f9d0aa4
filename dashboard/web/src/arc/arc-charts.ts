import type { ArcDetail, RowColumns } from '../../../../shared/protocol/http.ts';
import type { Waveform } from '../../../../shared/protocol/live-rows.ts';
import { figure } from '../parts/format.ts';
import { bandOf, pairBand } from '../parts/plate-band.ts';
import type { ChartFacts } from '../parts/plot-options.ts';

const inks = ['--accent', '--marginal', '--adequate'];
const xLabel = 'seconds from the arc’s start';
export type Places = ChartFacts['places'];

export function rowsChart(rows: RowColumns, detail: ArcDetail, places: Places): ChartFacts {
  const { plate, circuit, arc } = detail;
  const pairs = arc.channels.map((channel) => channel.idleVolts ?? channel.meanVolts);
  const band = pairBand(bandOf(plate, circuit), pairs, circuit?.volts ?? null);
  const many = pairs.length > 1;
  const name = (what: string, pair: number) => (many ? `${what} ${pair + 1}` : what);
  const permits = band
    ? `; the band is what the plate permits, ${figure(band[0], 0)} to ${figure(band[1], 0)} V`
    : '';
  return {
    says: `Voltage and current, half cycle by half cycle${permits}${many && band ? ' a pair' : ''}`,
    xLabel,
    columns: [rows.timeS, ...rows.volts, ...rows.amps],
    lines: [
      ...pairs.map((_, pair) => ({
        ...{ label: name('voltage', pair), unit: 'V', ink: inks[pair] ?? '--accent' },
      })),
      ...pairs.map((_, pair) => ({
        ...{ label: name('current', pair), unit: 'A', ink: '--ink', dash: [6, 3 + 2 * pair] },
      })),
    ],
    band,
    ...(places ? { places } : {}),
  };
}

/** Volts above, amperes below: one over the other would hide both. */
export function waveCharts(wave: Waveform, places: Places): ChartFacts[] {
  const column = (values: Float32Array) =>
    Array.from(values, (value) => (Number.isNaN(value) ? null : value));
  const count = wave.volts[0]?.length ?? 0;
  const time = Array.from({ length: count }, (_, index) => wave.startS + index / wave.rateHz);
  const chart = (says: string, unit: string, columns: Float32Array[]): ChartFacts => ({
    says,
    xLabel,
    columns: [time, ...columns.map(column)],
    lines: columns.map((_, pair) => ({
      ...{ label: `${unit === 'V' ? 'v' : 'i'}${pair + 1}`, unit, ink: inks[pair] ?? '--accent' },
    })),
    height: 190,
    ...(places ? { places } : {}),
  });
  const rate = Math.round(wave.rateHz).toLocaleString('en').replace(',', ' ');
  return [
    chart(`Voltage, ${rate} samples a second`, 'V', wave.volts),
    chart('Current, the same samples', 'A', wave.amps),
  ];
}
