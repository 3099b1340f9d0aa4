import type { Signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail } from '../../../../shared/protocol/http.ts';
import type { ArcSpectrum } from '../../../../shared/protocol/http-spectrum.ts';
import { arcSpectrum } from '../parts/api.ts';
import type { Extent } from '../parts/extent.ts';
import { figure } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { SpectrumChart } from './spectrum-chart.tsx';

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
  const [spectra, setSpectra] = useState<ArcSpectrum[]>([]);
  const [fault, setFault] = useState('');
  const ids = arcs.map(({ summary }) => summary.id).join(' ');
  useEffect(() => {
    let mine = true;
    Promise.all(arcs.map(({ summary }) => arcSpectrum(summary.id, atS))).then(
      (found) => {
        if (!mine) return;
        setSpectra(found);
        setFault('');
      },
      (error: Error) => mine && setFault(error.message),
    );
    return () => {
      mine = false;
    };
  }, [ids, atS]);
  const middle = () => {
    const [from, to] = extent.peek() ?? [0, arcs[0]!.arc.durationS];
    setAtS((from + to) / 2);
  };
  const [first] = spectra;
  return (
    <section class="spectrum">
      <h2>{say.heading}</h2>
      <p class="actions no-print">
        <button type="button" aria-pressed={atS === null} onClick={() => setAtS(null)}>
          {say.mean}
        </button>
        <button type="button" aria-pressed={atS !== null} onClick={middle}>
          {say.here}
        </button>
      </p>
      <p class="fault" role="alert">
        {fault}
      </p>
      {first && (
        <>
          <p class="source">
            {say.window(figure(first.fromS, 2), figure(first.toS, 2), first.windows)} {say.source}
          </p>
          <div class="two-up">
            {first.pairs.flatMap((_, pair) =>
              (['volts', 'amps'] as const).map((which) => (
                <SpectrumChart
                  key={`${which} ${pair}`}
                  {...{ which, pair, spectra, many: first.pairs.length > 1 }}
                />
              )),
            )}
          </div>
        </>
      )}
    </section>
  );
}
