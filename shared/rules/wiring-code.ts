import type { Circuit } from '../protocol/circuit.ts';
import type { Gauge } from './wire.ts';

/** Supplies of 50 Hz countries; a circuit may also say its hertz. */
const europeanVolts = [220, 230, 380, 400, 415] as const;

/** A circuit of a country with 50 Hz, by its hertz or else by its volts. */
export const isEuropean = ({ volts, hertz }: Pick<Circuit, 'volts' | 'hertz'>): boolean =>
  hertz === 50 || (hertz === undefined && europeanVolts.some((each) => each === volts));

/** Where a circuit's rules are those of IEC: by its branch, else its cords, else its mains. */
export function isMetricWiring(circuit: {
  volts: number;
  hertz?: 50 | 60;
  branch?: Gauge;
  cords?: readonly Gauge[];
}): boolean {
  const sized = [circuit.branch, ...(circuit.cords ?? [])].find(
    (wire) => wire !== undefined && (wire.mm2 ?? wire.awg ?? wire.kcmil) !== undefined,
  );
  return sized ? sized.mm2 !== undefined : isEuropean(circuit);
}
