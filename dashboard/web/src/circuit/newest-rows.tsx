import { useState } from 'preact/hooks';
import { words } from '../parts/words.ts';

/** Rows that a table shows at first, and more of them with each press. */
const atOnce = 40;

/** The newest rows of a list in order of time, newest first, and the button that shows more. */
export function useNewest<Row>(all: readonly Row[]) {
  const [most, setMost] = useState(atOnce);
  const rows = all.slice(-most).reverse();
  const more = all.length > most && (
    <p class="actions no-print">
      <button type="button" onClick={() => setMost(most + atOnce)}>
        {words.circuit.olderRows}
      </button>
    </p>
  );
  return { rows, more };
}
