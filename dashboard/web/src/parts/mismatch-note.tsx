import type { Mismatch } from '../../../../shared/protocol/http.ts';
import { said } from './said.ts';
import { VerdictMark, verdictWord } from './verdict-mark.tsx';

/** That machine and supply do not go together: known before any weld, so told before one. */
export function MismatchNote({ mismatch }: { mismatch: Mismatch | undefined }) {
  if (!mismatch) return null;
  const { verdict } = mismatch;
  return (
    <p class={`mismatch ${verdict}`} role="status">
      <VerdictMark verdict={verdict} size={36} />
      <span>
        <strong class={verdict}>{verdictWord(verdict)}</strong>
        <br />
        {said(mismatch)}
      </span>
    </p>
  );
}
