import type { PlateSupply } from '../protocol/plate.ts';
import type { Volts } from '../units.ts';
import { nearestByRatio } from './wiring.ts';

/**
 * The plate's line that a machine works by on a supply: the nearest by ratio, and of lines that are
 * equally near the one that asks for more current.
 */
export function ratedLine(lines: readonly PlateSupply[], supply: Volts): PlateSupply | null {
  if (lines.length === 0) return null;
  const U1 = nearestByRatio(
    lines.map((line) => line.U1),
    supply,
  );
  return lines
    .filter((line) => line.U1 === U1)
    .reduce((most, line) => (line.I1max > most.I1max ? line : most));
}
