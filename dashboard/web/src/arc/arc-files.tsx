import type { ArcDetail } from '../../../../shared/protocol/http.ts';
import { arcFile } from '../parts/api.ts';
import { words } from '../parts/words.ts';

/** The arc as files, for another place or another program. */
export function ArcFiles({ detail }: { detail: ArcDetail }) {
  const { summary, waveform, plate, circuit } = detail;
  const say = words.arc.files;
  const files: [name: string, says: string, there: boolean][] = [
    ['recording.cff', say.cff, waveform],
    ['waveform.csv', say.csv, waveform],
    ['rows.csv', say.rows, true],
    ['plate.json', say.plate, plate !== null],
    ['circuit.json', say.circuit, circuit !== null],
  ];
  return (
    <section class="no-print">
      <h2>{say.heading}</h2>
      <p>{say.what}</p>
      <p class="actions">
        {files
          .filter(([, , there]) => there)
          .map(([name, says]) => (
            <a key={name} class="button" href={arcFile(summary.id, name)} download>
              {says}
            </a>
          ))}
      </p>
    </section>
  );
}
