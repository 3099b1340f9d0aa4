import type { ArcSpectrum } from '../../../../shared/protocol/http-spectrum.ts';
import { figure } from '../parts/format.ts';
import { roundTicks, Scatter, type ScatterFrame, scatterFrame } from '../parts/scatter.tsx';
import { words } from '../parts/words.ts';

type Lines = ArcSpectrum['pairs'][number]['volts'];

interface ChartProps {
  which: 'volts' | 'amps';
  pair: number;
  spectra: readonly ArcSpectrum[];
  many: boolean;
}

const orderTicks = [2, 5, 10, 20, 30, 40, 50].map((at) => [at, String(at)] as const);

/** Each order against the fundamental, in percent; the fundamental itself would hide the rest. */
export function SpectrumChart({ which, pair, spectra, many }: ChartProps) {
  const say = words.arc.spectrum;
  const unit = which === 'volts' ? 'V' : 'A';
  const name = many ? words.arc.ofPair(words.arc[which], pair + 1) : words.arc[which];
  const all = spectra.flatMap(({ pairs }) => pairs[pair]?.[which] ?? []);
  const parts = all.map(percents);
  const most = Math.max(1, ...parts.flatMap((each) => each.slice(2)));
  const frame = scatterFrame([1, 51], [0, 1.1 * most]);
  const [lines] = all;
  if (!lines) return null;
  const largest = lines.groups
    .map((_, order) => order)
    .slice(2)
    .sort((a, b) => parts[0]![b]! - parts[0]![a]!)
    .slice(0, 3)
    .map((order) => say.one(order, figure(parts[0]![order])));
  return (
    <figure class="chart">
      <figcaption>{say.caption(name)}</figcaption>
      {all.map((each, at) => (
        <p class="source" key={at === 0 ? 'first' : 'second'}>
          {all.length > 1 && <Sample second={at === 1} />}
          {say.facts(
            figure(spectra[at]!.hertz, 2),
            `${figure(each.groups[1], 2)} ${unit}`,
            figure(each.thdPercent),
          )}
        </p>
      ))}
      <Scatter
        says={say.says(name, largest.join(', '))}
        xTicks={orderTicks}
        yTicks={roundTicks(0, 1.1 * most)}
        xLabel={say.harmonic}
        yLabel={say.percent}
        frame={frame}
      >
        {parts.map((each, at) => (
          <Bars key={at === 0 ? 'first' : 'second'} of={each} frame={frame} second={at === 1} />
        ))}
      </Scatter>
      <LinesTable lines={lines} unit={unit} name={name} />
    </figure>
  );
}

const percents = ({ groups }: Lines): number[] =>
  groups.map((value) => (groups[1]! > 0 ? (100 * value) / groups[1]! : 0));

/** The second arc's bars are outlined and stand a little aside. */
function Bars({ of, frame, second }: { of: number[]; frame: ScatterFrame; second: boolean }) {
  const aside = second ? 3 : -2;
  return (
    <g class={second ? 'bars second' : 'bars'}>
      {of.map((value, order) =>
        order < 2 ? null : (
          <rect
            key={`order ${order}`}
            x={frame.x(order) - 3 + aside}
            y={frame.y(value)}
            width="6"
            height={frame.bottom - frame.y(value)}
          />
        ),
      )}
    </g>
  );
}

function Sample({ second }: { second: boolean }) {
  const say = words.arc.spectrum;
  return (
    <>
      <svg class="scatter-key" viewBox="0 0 14 14" width="14" height="14" aria-hidden="true">
        <g class={second ? 'bars second' : 'bars'}>
          <rect x="3" y="1" width="8" height="12" />
        </g>
      </svg>{' '}
      {second ? say.secondArc : say.firstArc}:{' '}
    </>
  );
}

function LinesTable({ lines, unit, name }: { lines: Lines; unit: string; name: string }) {
  const say = words.arc.spectrum;
  const parts = percents(lines);
  return (
    <details>
      <summary>{say.table}</summary>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a wide table is scrolled by keys */}
      <section class="scroll" aria-label={`${say.table}: ${name}`} tabIndex={0}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say.order}</th>
              <th scope="col">{say.group(unit)}</th>
              <th scope="col">{say.subgroup(unit)}</th>
              <th scope="col">{say.percent}</th>
            </tr>
          </thead>
          <tbody>
            {lines.groups.map((group, order) => (
              <tr key={`order ${order}`}>
                <th scope="row">{order === 0 ? say.dc : order}</th>
                <td>{figure(group, 3)}</td>
                <td>{figure(lines.subgroups[order], 3)}</td>
                <td>{figure(parts[order], 2)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </details>
  );
}
