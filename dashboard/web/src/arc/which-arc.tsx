import { words } from '../parts/words.ts';

/** Which of two arcs: the word, and its bars in the spectrum, filled or outlined. */
export function WhichArc({ second }: { second: boolean }) {
  const say = words.arc.spectrum;
  return (
    <>
      <svg class="scatter-key" viewBox="0 0 14 14" width="14" height="14" aria-hidden="true">
        <g class={second ? 'bars second' : 'bars'}>
          <rect x="3" y="1" width="8" height="12" />
        </g>
      </svg>{' '}
      <span>{second ? say.secondArc : say.firstArc}</span>
    </>
  );
}

/** What is said of one of two; of a single arc it is said as it is. */
export function ofArc(side: number, of: number, says: string): string {
  if (of < 2) return says;
  return side === 0 ? words.arc.first(says) : words.arc.second(says);
}
