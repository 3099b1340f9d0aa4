import type { Remedy } from '../../../../shared/protocol/remedy.ts';

/** Changes after which the machine gets what it needs: the shop's own first. */
export function RemedyList({ remedies }: { remedies: readonly Remedy[] }) {
  return (
    <ol class="remedies">
      {remedies.map(({ says, who }) => (
        <li key={says}>
          <strong>{who === 'shop' ? 'Yourselves:' : 'An electrician:'}</strong> {says}
        </li>
      ))}
    </ol>
  );
}
