import type { OtherLoadList } from '../../../../shared/protocol/http-supply.ts';
import { figure } from '../parts/format.ts';
import { Moment } from '../parts/moment.tsx';
import { words } from '../parts/words.ts';
import { useNewest } from './newest-rows.tsx';

/** What else switched in the stretch that the history shows: steps own current does not explain. */
export function OtherLoads({ list }: { list: OtherLoadList }) {
  const say = words.circuit.loads;
  const { rows, more } = useNewest(list.events);
  const plusMinus = (value: number | null, half: number | null, decimals: number) =>
    value === null ? '–' : `${figure(value, decimals)} ± ${figure(half, decimals)}`;
  return (
    <section>
      <h3>{say.heading}</h3>
      <p class="source">{say.looked}</p>
      {rows.length === 0 ? (
        <p class="empty">{say.none}</p>
      ) : (
        <details class="figures-of">
          <summary>{say.summary(list.events.length, list.more, rows.length)}</summary>
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keys */}
          <section class="scroll" aria-label={say.heading} tabIndex={0}>
            <table>
              <thead>
                <tr>
                  <th scope="col">{say.when}</th>
                  <th scope="col">{say.volts}</th>
                  <th scope="col">{say.amps}</th>
                  <th scope="col">{say.during}</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((event) => (
                  <tr key={`${event.at} ${event.channel}`}>
                    <th scope="row">
                      <Moment at={event.at} />
                    </th>
                    <td>{plusMinus(event.volts, event.halfWidthVolts, 2)}</td>
                    <td>{plusMinus(event.amps, event.halfWidthAmps, 1)}</td>
                    <td>{event.duringArc ? say.yes : say.no}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </section>
          {more}
        </details>
      )}
    </section>
  );
}
