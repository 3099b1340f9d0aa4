import type { AnalogChannel, ComtradeConfig, DataKind } from './comtrade-cfg.ts';
import { type ChannelFacts, mostValue, RecordingError } from './reader.ts';
import { excerpt } from './text.ts';

/** A channel to read: which column, and value = raw · scale + offset in volts or amperes. */
export interface Pick {
  column: number;
  scale: number;
  offset: number;
  /** Whether 99999 marks a missing sample: not where the channel's own range reaches it. */
  marks99999: boolean;
}

/** A pair is a voltage and a current; a sensor has three at the most. */
const mostPairs = 3;
const words: readonly [RegExp, 'V' | 'A'][] = [
  [/^v(olts?)?$/i, 'V'],
  [/^a(mp(ere)?s?)?$/i, 'A'],
];
/** Prefixes as symbols (case tells milli from mega) and as words. */
const prefixes: Readonly<Record<string, number>> = {
  '': 1,
  u: 1e-6,
  µ: 1e-6,
  μ: 1e-6,
  micro: 1e-6,
  m: 1e-3,
  milli: 1e-3,
  k: 1e3,
  K: 1e3,
  kilo: 1e3,
  M: 1e6,
  mega: 1e6,
};

/** The unit and its factor to volts or amperes, or null where it is neither. */
export function unitOf(text: string): { unit: 'V' | 'A'; factor: number } | null {
  const parts = /^(micro|milli|kilo|mega|[uµμmkKM]?)(v|a|volts?|amps?|amperes?)$/i.exec(
    text.trim(),
  );
  if (!parts) return null;
  const [, prefix = '', base = ''] = parts;
  const factor = prefixes[prefix] ?? prefixes[prefix.toLowerCase()];
  const unit = words.find(([word]) => word.test(base))?.[1];
  return factor === undefined || unit === undefined ? null : { unit, factor };
}

/**
 * Pairs voltage channels with current channels in order.
 * @throws RecordingError where there is no voltage or no current.
 */
export function pairChannels(name: string, config: ComtradeConfig) {
  const columns: Record<'V' | 'A', number[]> = { V: [], A: [] };
  for (const [column, analog] of config.analogs.entries()) {
    const found = unitOf(analog.unit);
    if (found) columns[found.unit].push(column);
  }
  const pairs = Math.min(columns.V.length, columns.A.length, mostPairs);
  if (pairs === 0) {
    const units = [...new Set(config.analogs.map((analog) => `"${excerpt(analog.unit)}"`))];
    throw new RecordingError(
      `${name}: no channel in ${columns.V.length === 0 ? 'V' : 'A'} ` +
        `(units here: ${units.slice(0, 5).join(', ') || '–'}); ` +
        'a voltage and a current are needed',
    );
  }
  const order: number[] = [];
  for (let pair = 0; pair < pairs; pair++) order.push(columns.V[pair]!, columns.A[pair]!);
  const picks = order.map((column) => pickOf(config, column));
  for (const { column, scale, offset } of picks)
    if (!(Math.abs(scale) <= mostValue && Math.abs(offset) <= mostValue))
      throw new RecordingError(
        `${name}: channel "${excerpt(config.analogs[column]!.name)}": ` +
          `value = count · ${scale} + ${offset}; ${mostValue} V or A is the most`,
      );
  const channels = picks.map((pick): ChannelFacts => {
    const analog = config.analogs[pick.column]!;
    const bits = bitsOf(config.kind, analog.max);
    return {
      name: analog.name,
      unit: unitOf(analog.unit)!.unit,
      scale: bits === 0 ? null : pick.scale,
      offset: bits === 0 ? 0 : pick.offset,
      bits,
    };
  });
  const leftOut = config.analogs.filter((_, column) => !order.includes(column));
  return { pairs, picks, channels, leftOut: leftOut.map((analog) => analog.name) };
}

function bitsOf(kind: DataKind, max: number): ChannelFacts['bits'] {
  // A range beyond 32 bits is one of real numbers (2013 edition).
  if (kind === 'FLOAT32' || max > 2 ** 32) return 0;
  return kind === 'BINARY' || (kind === 'ASCII' && max <= 0x7fff) ? 16 : 32;
}

/** A column in its base unit, on the primary side; a channel of another unit as recorded. */
export function pickOf(config: ComtradeConfig, column: number): Pick {
  const analog = config.analogs[column] as AnalogChannel;
  const unit = unitOf(analog.unit);
  const factor = unit ? unit.factor * analog.toPrimary : 1;
  return {
    column,
    scale: analog.a * factor,
    offset: analog.b * factor,
    marks99999: config.revision < 2013 || analog.max < 99_999,
  };
}
