import type { Cord } from '../../../../shared/protocol/circuit.ts';
import type { CheckStep } from '../../../../shared/protocol/outlet-check.ts';
import { gaugeText, lengthText } from '../parts/units.ts';
import { words } from '../parts/words.ts';

/** The way through a check; the second bead is walked only by choice. */
export const way: readonly CheckStep[] = ['no-load', 'idle', 'first-bead', 'judged'];

export function cordWords(cords: readonly Cord[]): string {
  if (cords.length === 0) return words.check.noCord;
  return cords
    .map((cord) => words.check.cordOf(lengthText(cord), gaugeText(cord)))
    .join(` ${words.check.and} `);
}
