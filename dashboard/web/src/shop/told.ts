import { plain } from '../parts/format.ts';
import { gaugeText, lengthText, wireUnit } from '../parts/units.ts';
import { words } from '../parts/words.ts';
import { wiresText } from './wires.tsx';

type Fields = Readonly<Record<string, unknown>>;

/** A plate, a circuit or a feeder as people compare two of them: sizes and choices in words. */
export function toldInWords(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(toldInWords);
  if (typeof value !== 'object' || value === null) return value;
  return { ...sizes(value as Fields), ...others(value as Fields) };
}

/** A conductor: its size is one thing, in whichever standard, and so is its length. */
function sizes({ awg, mm2, kcmil, feet, metres }: Fields): Fields {
  const gauge = kcmil === undefined ? gaugeText({ awg, mm2 } as object) : `${kcmil} kcmil`;
  return {
    ...((awg ?? mm2 ?? kcmil) === undefined ? {} : { gauge }),
    ...((feet ?? metres) === undefined ? {} : { length: lengthText({ feet, metres } as object) }),
  };
}

const sized = new Set(['awg', 'mm2', 'kcmil', 'feet', 'metres']);

const others = (value: Fields): Fields =>
  Object.fromEntries(
    Object.entries(value)
      .filter(([key, each]) => !sized.has(key) && each !== undefined)
      .map(([key, each]) => [key, (asText[key] ?? toldInWords)(each as never)]),
  );

const yesOrNo = (is: boolean) => (is ? words.shop.plate.yes : words.shop.plate.no);

/** Fields that are kept otherwise than they are read. */
const asText: Readonly<Record<string, (value: never) => string>> = {
  hertz: (hertz: number | readonly number[]) => [hertz].flat().join(' / '),
  dedicated: yesOrNo,
  pulse: yesOrNo,
  metal: (metal: 'copper' | 'aluminium') => words.shop[metal],
  sensorAt: (at: 'outlet' | 'machine') => words.check.at[at],
  processes: (list: readonly (keyof typeof words.parts.processes)[]) =>
    list.map((each) => words.parts.processes[each]).join('; '),
  wireInches: (inches: readonly number[]) =>
    `${wiresText(inches, wireUnit())} ${wireUnit() === 'mm' ? 'mm' : 'in'}`,
  X: (duty: number) => `${plain(100 * duty, 1)} %`,
};
