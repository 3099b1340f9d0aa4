import type { ArcSpectrum } from '../../../../shared/protocol/http-spectrum.ts';
import { figure } from '../parts/format.ts';
import { roundTicks, Scatter, type ScatterFrame, scatterFrame } from '../parts/scatter.tsx';
import { words } from '../parts/words.ts';
import { ofArc, WhichArc } from './which-arc.tsx';

type Lines = ArcSpectrum['pairs'][number]['volts'];

interface ChartProps {
  which: 'volts' | 'amps';
  pair: number;
  /** Of one arc, or of two; null where that one has none. */
  spectra: readonly (ArcSpectrum | null)[];
  many: boolean;
}

const orderTicks = [2, 5, 10, 20, 30, 40, 50].map((at) => [at, String(at)] as const);

/** One arc's lines of the pair and quantity that a chart shows. */
interface Drawn {
  side: number;
  hertz: number;
  lines: Lines;
  parts: number[];
}

/** Each order against the fundamental, in percent; the fundamental itself would hide the rest. */
export function SpectrumChart({ which, pair, spectra, many }: ChartProps) {
  const say = words.arc.spectrum;
  const unit = which === 'volts' ? 'V' : 'A';
  const name = many ? words.arc.ofPair(words.arc[which], pair + 1) : words.arc[which];
  const drawn = spectra.flatMap((each, side): Drawn[] => {
    const lines = each?.pairs[pair]?.[which];
    return each && lines ? [{ side, hertz: each.hertz, lines, parts: percents(lines) }] : [];
  });
  const most = Math.max(1, ...drawn.flatMap(({ parts }) => parts.slice(2)));
  const frame = scatterFrame([1, 51], [0, 1.1 * most]);
  const says = drawn.map(({ side, parts }) =>
    ofArc(side, spectra.length, say.says(name, largest(parts))),
  );
  return (
    <figure class="chart">
      <figcaption>{say.caption(name)}</figcaption>
      {drawn.map(({ side, hertz, lines }) => (
        <p class="source" key={side}>
          {spectra.length > 1 && (
            <>
              <WhichArc second={side === 1} />:{' '}
            </>
          )}
          {say.facts(
            figure(hertz, 2),
            `${figure(lines.groups[1], 2)} ${unit}`,
            figure(lines.thdPercent),
          )}
        </p>
      ))}
      <Scatter
        says={says.join(' ')}
        xTicks={orderTicks}
        yTicks={roundTicks(0, 1.1 * most)}
        xLabel={say.harmonic}
        yLabel={say.percent}
        frame={frame}
      >
        {drawn.map(({ side, parts }) => (
          <Bars key={side} of={parts} frame={frame} second={side === 1} />
        ))}
      </Scatter>
      <LinesTable drawn={drawn} of={spectra.length} unit={unit} name={name} />
    </figure>
  );
}

/** The three largest orders beside the fundamental, in words. */
const largest = (parts: readonly number[]): string =>
  parts
    .map((_, order) => order)
    .slice(2)
    .sort((a, b) => parts[b]! - parts[a]!)
    .slice(0, 3)
    .map((order) => words.arc.spectrum.one(order, figure(parts[order])))
    .join(', ');

const percents = ({ groups }: Lines): number[] =>
  groups.map((value) => (groups[1]! > 0 ? (100 * value) / groups[1]! : 0));

/** The second arc's bars are outlined and stand a little aside. */
function Bars({ of, frame, second }: { of: number[]; frame: ScatterFrame; second: boolean }) {
  const step = frame.x(2) - frame.x(1);
  const [width, aside] = [0.54 * step, (second ? 0.27 : -0.18) * step];
  return (
    <g class={second ? 'bars second' : 'bars'}>
      {of.map((value, order) =>
        order < 2 ? null : (
          <rect
            key={`order ${order}`}
            x={frame.x(order) - width / 2 + aside}
            y={frame.y(value)}
            width={width}
            height={frame.bottom - frame.y(value)}
          />
        ),
      )}
    </g>
  );
}

interface TableProps {
  drawn: readonly Drawn[];
  /** How many arcs are compared. */
  of: number;
  unit: string;
  name: string;
}

function LinesTable({ drawn, of, unit, name }: TableProps) {
  const say = words.arc.spectrum;
  const heads = [say.group(unit), say.subgroup(unit), say.percent];
  const orders = drawn[0]?.lines.groups ?? [];
  return (
    <details>
      <summary>{say.table}</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keys */}
      <section class="scroll" aria-label={`${say.table}: ${name}`} tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say.order}</th>
              {drawn.flatMap(({ side }) =>
                heads.map((head) => (
                  <th scope="col" key={`${side} ${head}`}>
                    {ofArc(side, of, head)}
                  </th>
                )),
              )}
            </tr>
          </thead>
          <tbody>
            {orders.map((_, order) => (
              <tr key={`order ${order}`}>
                <th scope="row">{order === 0 ? say.dc : order}</th>
                {drawn.flatMap(({ side, lines, parts }) => [
                  <td key={`${side} group`}>{figure(lines.groups[order], 3)}</td>,
                  <td key={`${side} subgroup`}>{figure(lines.subgroups[order], 3)}</td>,
                  <td key={`${side} percent`}>{figure(parts[order], 2)}</td>,
                ])}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}
