import type { Place, Verdict } from '../../../../shared/protocol/judgement.ts';
import { words } from './words.ts';

/** A verdict's shape: full disc, half disc, notch, dashed ring. Told apart without any colour. */
export function VerdictMark({ verdict, size = 28 }: { verdict: Verdict; size?: number }) {
  return (
    <svg
      class={`mark ${verdict}`}
      viewBox="0 0 32 32"
      width={size}
      height={size}
      aria-hidden="true"
    >
      {shapes[verdict]()}
    </svg>
  );
}

// Drawn anew each time: an element kept and used again holds every tree that it ever stood in.
const shapes = {
  adequate: () => <circle cx="16" cy="16" r="13" fill="currentColor" />,
  marginal: () => (
    <g>
      <circle cx="16" cy="16" r="12" fill="none" stroke="currentColor" stroke-width="2.5" />
      <path d="M4 16a12 12 0 0 0 24 0z" fill="currentColor" />
    </g>
  ),
  unsuited: () => (
    <path
      d="M3 3h26v26H3zM7.5 7.5v13L20.5 7.5zM24.500 11.500 11.5 24.500h13z"
      fill="currentColor"
      fill-rule="evenodd"
    />
  ),
  underpowered: () => <path d="M3 4h26v24h-6L16 15 9 28H3z" fill="currentColor" />,
  unproven: () => (
    <circle
      cx="16"
      cy="16"
      r="12"
      fill="none"
      stroke="currentColor"
      stroke-width="3"
      stroke-dasharray="5 4.4"
    />
  ),
} satisfies Record<Verdict, () => unknown>;

/** `place`: where its voltages are told of; what is good is good there. */
export const verdictWord = (verdict: Verdict, place?: Place): string =>
  words.parts.verdictAt(verdict, place);
