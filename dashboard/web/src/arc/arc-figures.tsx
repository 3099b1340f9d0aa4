import type { Arc, ArcChannel } from '../../../../shared/protocol/judgement.ts';
import { figure } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { ofArc } from './which-arc.tsx';

type Label = Exclude<keyof typeof words.arc.figures, 'heading' | 'trueRms' | 'pair' | 'between'>;
const rows: [label: Label, unit: string, of: (channel: ArcChannel) => number | null, number][] = [
  ['idle', 'V', (channel) => channel.idleVolts, 1],
  ['mean', 'V', (channel) => channel.meanVolts, 1],
  ['lowest', 'V', (channel) => channel.minVolts200ms, 1],
  ['halfCycle', 'V', (channel) => channel.minVoltsHalfCycle, 1],
  ['amps', 'A', (channel) => channel.meanAmps, 2],
  ['highest', 'A', (channel) => channel.maxAmps200ms, 2],
  ['watts', 'W', (channel) => channel.meanWatts, 0],
  ['factor', '', (channel) => channel.powerFactor, 3],
  ['thdVolts', '%', (channel) => channel.thdVoltsPercent, 1],
  ['thdAmps', '%', (channel) => channel.thdAmpsPercent, 1],
];

/** The raw figures, last on the page: for people who want to look closer; two arcs in one table. */
export function ArcFigures({ arcs }: { arcs: readonly Arc[] }) {
  const say = words.arc.figures;
  const columns = arcs.flatMap(({ channels, between = [] }, side) => [
    ...channels.map((channel, pair) => ({
      name: ofArc(side, arcs.length, say.pair(pair + 1)),
      channel,
    })),
    ...between.map((channel, one) => ({
      name: ofArc(side, arcs.length, say.between(one + 1, ((one + 1) % channels.length) + 1)),
      channel,
    })),
  ]);
  return (
    <section>
      <h2>{say.heading}</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keys */}
      <section class="scroll" aria-label={say.heading} tabIndex={0}>
        <table class="figures">
          <thead>
            <tr>
              <th scope="col">{say.trueRms}</th>
              {columns.map(({ name }) => (
                <th key={name} scope="col">
                  {name}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([label, unit, of, decimals]) => (
              <tr key={label}>
                <th scope="row">{say[label]}</th>
                {columns.map(({ name, channel }) => (
                  <td key={name}>
                    {figure(of(channel), decimals)} {unit}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}
