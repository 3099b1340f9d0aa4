import type { Signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail } from '../../../../shared/protocol/http.ts';
import type { ArcSpectrum } from '../../../../shared/protocol/http-spectrum.ts';
import { arcSpectrum } from '../parts/api.ts';
import type { Extent } from '../parts/extent.ts';
import { figure } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { SpectrumChart } from './spectrum-chart.tsx';
import { ofArc } from './which-arc.tsx';

interface SpectrumProps {
  /** One arc, or two whose spectra are laid over one another. */
  arcs: readonly ArcDetail[];
  extent: Signal<Extent | null>;
}

/** Harmonics to the 50th: of the whole arc, or where its picture is being looked at. */
export function ArcSpectrumView({ arcs, extent }: SpectrumProps) {
  const say = words.arc.spectrum;
  /** Null is the mean of the arc. */
  const [atS, setAtS] = useState<number | null>(null);
  const [found, setFound] = useState<(ArcSpectrum | Error)[]>([]);
  const ids = arcs.map(({ summary }) => summary.id).join(' ');
  useEffect(() => {
    let mine = true;
    // Of two arcs one may have ended before the place that is looked at: the other is shown.
    const asked = arcs.map(({ summary }) =>
      arcSpectrum(summary.id, atS).catch((error: Error) => error),
    );
    Promise.all(asked).then((answers) => mine && setFound(answers));
    return () => {
      mine = false;
    };
  }, [ids, atS]);
  const middle = () => {
    const [from, to] = extent.peek() ?? [0, Math.max(...arcs.map(({ arc }) => arc.durationS))];
    setAtS((from + to) / 2);
  };
  const spectra = found.map((each) => (each instanceof Error ? null : each));
  const pairs = Math.max(0, ...spectra.map((each) => each?.pairs.length ?? 0));
  const said = found.map((each, side) => {
    if (each instanceof Error) return { fault: ofArc(side, found.length, each.message) };
    const { fromS, toS, windows } = each;
    const window = say.window(figure(fromS, 2), figure(toS, 2), windows);
    return { window: ofArc(side, found.length, window) };
  });
  return (
    <section class="spectrum no-print">
      <h2>{say.heading}</h2>
      <p class="actions">
        <button type="button" aria-pressed={atS === null} onClick={() => setAtS(null)}>
          {say.mean}
        </button>
        <button type="button" aria-pressed={atS !== null} onClick={middle}>
          {say.here}
        </button>
      </p>
      <p class="fault" role="alert">
        {said.flatMap(({ fault }) => fault ?? []).join(' ')}
      </p>
      {pairs > 0 && (
        <>
          <p class="source">
            {said.flatMap(({ window }) => window ?? []).join(' ')} {say.source}
          </p>
          <div class="two-up">
            {Array.from({ length: pairs }, (_, pair) =>
              (['volts', 'amps'] as const).map((which) => (
                <SpectrumChart
                  key={`${which} ${pair}`}
                  {...{ which, pair, spectra, many: pairs > 1 }}
                />
              )),
            )}
          </div>
        </>
      )}
    </section>
  );
}
