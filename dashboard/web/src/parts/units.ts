import { figure, plain } from './format.ts';
import { units } from './preferences.ts';
import { words } from './words.ts';

/**
 * Lengths and wire sizes as they were given, and in the units of this device where those are
 * others. No size is ever turned into the nearest one of the other standard: wire of 2.5 mm² is not
 * 14 AWG, so it is told between which sizes it lies.
 */
export const metresPerFoot = 0.3048;

export interface Length {
  feet?: number | undefined;
  metres?: number | undefined;
}
export interface Gauge {
  awg?: number | string | undefined;
  mm2?: number | undefined;
}

/** The unit that a new length is typed in. */
export const lengthUnit = (): 'feet' | 'metres' => (units.value === 'us' ? 'feet' : 'metres');
/** The unit that a filler wire's diameter is typed in. */
export const wireUnit = (): 'mm' | 'inches' => (units.value === 'us' ? 'inches' : 'mm');
/** The standard whose sizes stand first in a list. */
export const gaugeUnit = (): 'awg' | 'mm2' => (units.value === 'us' ? 'awg' : 'mm2');

export const metresOf = ({ feet, metres }: Length): number => metres ?? (feet ?? 0) * metresPerFoot;
export const feetOf = ({ feet, metres }: Length): number => feet ?? (metres ?? 0) / metresPerFoot;

/** "25 ft"; on a metric device "7.6 m (25 ft)". */
export function lengthText(length: Length): string {
  const given =
    length.metres !== undefined ? `${plain(length.metres)} m` : `${plain(length.feet ?? 0)} ft`;
  const unit = lengthUnit();
  if (unit === (length.metres !== undefined ? 'metres' : 'feet')) return given;
  const here = unit === 'feet' ? `${near(feetOf(length))} ft` : `${near(metresOf(length))} m`;
  return `${here} (${given})`;
}

/** Three digits and no more: a tape measure in a shop tells no finer. */
const near = (value: number): string => plain(Number(value.toPrecision(3)));

/** "12 AWG"; on a metric device "12 AWG (3.31 mm²)". */
export function gaugeText(gauge: Gauge): string {
  if (gauge.mm2 !== undefined) {
    const given = `${plain(gauge.mm2)} mm²`;
    return units.value === 'metric' ? given : `${given} (${amongAwg(gauge.mm2)})`;
  }
  if (gauge.awg === undefined) return words.parts.sizeUnknown;
  const given = `${gauge.awg} AWG`;
  return units.value === 'us' ? given : `${given} (${figure(mm2Of(gauge.awg), 2)} mm²)`;
}

/** Choices of wire, `awg 12` and `mm2 2.5`: those of this device's standard stand first. */
export function gaugeChoices(
  awg: readonly (number | string)[],
  mm2: readonly number[],
): (readonly [value: string, text: string])[] {
  const american = awg.map((size) => [`awg ${size}`, gaugeText({ awg: size })] as const);
  const metric = mm2.map((size) => [`mm2 ${size}`, gaugeText({ mm2: size })] as const);
  return gaugeUnit() === 'awg' ? [...american, ...metric] : [...metric, ...american];
}

/** The text of a choice that is in no list, as it was typed. */
export function gaugeOfChoice(choice: string): string {
  const [key = '', size = ''] = choice.split(' ');
  return gaugeText(key === 'mm2' ? { mm2: Number(size) } : { awg: size });
}

/** Section of a size by ASTM B258: d = 0.005 in · 92^((36 − n)/39); 1/0 counts as 0. */
export function mm2Of(awg: number | string): number {
  const text = String(awg);
  const number = Number.parseInt(text, 10);
  const millimetres = 0.127 * 92 ** ((36 - (text.endsWith('/0') ? 1 - number : number)) / 39);
  return (Math.PI / 4) * millimetres ** 2;
}

const standard = '20 18 16 14 12 10 8 6 4 3 2 1 1/0 2/0 3/0 4/0'.split(' ');

/** Between which standard sizes a section lies. */
function amongAwg(mm2: number): string {
  const thicker = standard.find((awg) => mm2Of(awg) > mm2);
  const thinner = standard.findLast((awg) => mm2Of(awg) <= mm2);
  const { between, under, over } = words.parts.among;
  if (!thicker) return over(standard.at(-1)!);
  return thinner ? between(thinner, thicker) : under(standard[0]!);
}
