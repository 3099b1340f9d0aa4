import { useEffect, useState } from 'preact/hooks';
import type { SagList } from '../../../../shared/protocol/http.ts';
import { type Circuit, clockOffsetMs } from '../live/floor-state.ts';
import { useTick } from '../live/standing.ts';
import { sags } from '../parts/api.ts';
import { figure } from '../parts/format.ts';
import { Moment } from '../parts/moment.tsx';
import { said } from '../parts/said.ts';
import { Scatter, scatterFrame } from '../parts/scatter.tsx';
import { words } from '../parts/words.ts';
import { useNewest } from './newest-rows.tsx';

/** Looked back over, and how often it is asked again. */
const spanMs = 24 * 3_600_000;
const askEveryMs = 30_000;
const decades = [
  [0.01, '10 ms'],
  [0.1, '100 ms'],
  [1, '1 s'],
  [10, '10 s'],
  [60, '1 min'],
] as const;

/** Each sag of the voltage in the last day: how low against how long. */
export function SagsChart({ circuit }: { circuit: Circuit }) {
  const { id } = circuit.sensor.value;
  const [list, setList] = useState<SagList | null>(null);
  const tick = useTick(askEveryMs);
  useEffect(() => {
    let mine = true;
    const to = Date.now() + clockOffsetMs.peek();
    sags(id, to - spanMs, to).then(
      (found) => mine && setList(found),
      // The last answer stands; the link's state is told at the head of the page.
      () => undefined,
    );
    return () => {
      mine = false;
    };
  }, [id, tick]);
  if (!list) return null;
  const say = words.circuit.sags;
  const found = list.sags;
  const frame = scatterFrame([0.008, 100], [0, 100], true);
  const says = say.says(found.length);
  return (
    <section>
      <h2>{say.heading}</h2>
      {found.length === 0 ? (
        <p class="empty">{say.none}</p>
      ) : (
        <figure class="chart">
          <figcaption>{say.caption(found.length, list.more)}</figcaption>
          <Scatter
            says={says}
            xTicks={decades}
            yTicks={[0, 20, 40, 60, 80, 90, 100].map((at) => [at, `${at} %`])}
            xLabel={say.x}
            yLabel={say.y}
            frame={frame}
          >
            <line
              class="limit"
              x1={frame.left}
              x2={frame.right}
              y1={frame.y(90)}
              y2={frame.y(90)}
            />
            {found.map((sag) => (
              <circle
                key={`${sag.at} ${sag.channel}`}
                class="sag"
                cx={frame.x(sag.durationS)}
                cy={frame.y(100 - sag.depthPercent)}
                r="5"
              />
            ))}
          </Scatter>
          <SagTable list={list} />
        </figure>
      )}
    </section>
  );
}

function SagTable({ list }: { list: SagList }) {
  const say = words.circuit.sags;
  const { rows, more } = useNewest(list.sags);
  return (
    <details>
      <summary>{say.newest(rows.length)}</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keys */}
      <section class="scroll" aria-label={say.table} tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say.when}</th>
              <th scope="col">{say.left}</th>
              <th scope="col">{say.depth}</th>
              <th scope="col">{say.lasted}</th>
              <th scope="col">{say.category}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((sag) => (
              <tr key={`${sag.at} ${sag.channel}`}>
                <th scope="row">
                  <Moment at={sag.at} />
                </th>
                <td>{figure(sag.residualVolts)}</td>
                <td>{figure(sag.depthPercent)}</td>
                <td>{figure(sag.durationS, 3)}</td>
                <td>{sag.category === null ? say.noCategory : said({ says: sag.category })}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      {more}
    </details>
  );
}
