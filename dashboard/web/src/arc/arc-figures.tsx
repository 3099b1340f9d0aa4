import type { Arc, ArcChannel } from '../../../../shared/protocol/judgement.ts';
import { figure } from '../parts/format.ts';

const rows: [label: string, unit: string, of: (channel: ArcChannel) => number | null, number][] = [
  ['No load before', 'V', (channel) => channel.idleVolts, 1],
  ['Mean while on', 'V', (channel) => channel.meanVolts, 1],
  ['Lowest 200 ms', 'V', (channel) => channel.minVolts200ms, 1],
  ['Lowest half cycle', 'V', (channel) => channel.minVoltsHalfCycle, 1],
  ['Mean current', 'A', (channel) => channel.meanAmps, 2],
  ['Highest 200 ms', 'A', (channel) => channel.maxAmps200ms, 2],
  ['Power', 'W', (channel) => channel.meanWatts, 0],
  ['Power factor', '', (channel) => channel.powerFactor, 3],
  ['Voltage distortion (THD)', '%', (channel) => channel.thdVoltsPercent, 1],
  ['Current distortion (THD)', '%', (channel) => channel.thdAmpsPercent, 1],
];

/** The raw figures, last on the page: for people who want to look closer. */
export function ArcFigures({ arc }: { arc: Arc }) {
  return (
    <section>
      <h2>Figures</h2>
      <div class="scroll">
        <table class="figures">
          <thead>
            <tr>
              <th scope="col">True r.m.s.</th>
              {arc.channels.map((_, pair) => (
                <th key={`pair ${pair + 1}`} scope="col">
                  Pair {pair + 1}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([label, unit, of, decimals]) => (
              <tr key={label}>
                <th scope="row">{label}</th>
                {arc.channels.map((channel, pair) => (
                  <td key={`pair ${pair + 1}`}>
                    {figure(of(channel), decimals)} {unit}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
