import type { EpochMicros } from '../units.ts';
import { type CivilTime, epochMicros } from './civil-time.ts';
import { NumberParser } from './number-parser.ts';
import { RecordingError } from './reader.ts';
import { encodeText, excerpt, isPlain } from './text.ts';

/** An analog channel of a .cfg (IEEE C37.111 clause 5.3.3): value = a·x + b in `unit`. */
export interface AnalogChannel {
  name: string;
  unit: string;
  a: number;
  b: number;
  /** Time of this channel's sample after the row's, microseconds. */
  skewMicros: number;
  /** Largest raw value; where it is not told, the 99999 of the older editions. */
  max: number;
  /** Factor from recorded to primary values: 1, or primary/secondary where PS says "S". */
  toPrimary: number;
}

export type DataKind = 'ASCII' | 'BINARY' | 'BINARY32' | 'FLOAT32';

/** What a .cfg says. */
export interface ComtradeConfig {
  station: string;
  device: string;
  revision: 1991 | 1999 | 2013;
  analogs: AnalogChannel[];
  statusCount: number;
  hertz: number | null;
  /** Samples a second; 0 where the timestamps are binding. */
  rateHz: number;
  /** Rows promised; 0 where the writer never came to say. */
  rows: number;
  startedAt: EpochMicros | null;
  kind: DataKind;
  /** Microseconds a count of the timestamps. */
  stampMicros: number;
}

/** Channels a .cfg may have: the six digits of the standard, cut to what a row's limit allows. */
const mostChannels = 10_000;

/**
 * Reads a .cfg. Blank lines, spaces, missing fields of status lines and odd revision years are
 * borne; what the samples cannot be read without is named.
 * @throws RecordingError
 */
export function parseConfig(name: string, text: string): ComtradeConfig {
  if (text.trim() === '') throw new RecordingError(`${name}: is empty; a COMTRADE .cfg is needed`);
  const lines = new ConfigLines(name, text);
  const [station = '', device = '', year = ''] = lines.next('the station line');
  if (!isPlain(station + device))
    throw new RecordingError(`${name}: line ${lines.line} is no text; a COMTRADE .cfg is needed`);
  const revision = revisionOf(year);
  const { analogCount, statusCount } = channelCounts(lines);
  const analogs = Array.from({ length: analogCount }, () => readAnalog(lines));
  for (let i = 0; i < statusCount; i++) lines.next('a status channel');
  // The frequency's line may be empty: then the number of rates stands before a line with a comma.
  const hertz = lines.peek(1).includes(',') ? null : lines.number('the line frequency');
  const { rateHz, rows } = readRates(lines);
  const tail = readTail(lines, revision);
  return { station, device, revision, analogs, statusCount, hertz, rateHz, rows, ...tail };
}

/** The lines that hold something, as fields. */
class ConfigLines {
  line = 0;
  readonly #name: string;
  readonly #kept: { text: string; line: number }[] = [];
  readonly #parser = new NumberParser();
  #at = 0;

  constructor(name: string, text: string) {
    this.#name = name;
    for (const [index, raw] of text.split('\n').entries()) {
      const line = raw.replaceAll('\u001a', '').trim();
      if (line !== '') this.#kept.push({ text: line, line: index + 1 });
    }
  }

  get ended(): boolean {
    return this.#at >= this.#kept.length;
  }

  peek(ahead: number): string {
    return this.#kept[this.#at + ahead]?.text ?? '';
  }

  next(what: string): string[] {
    const kept = this.#kept[this.#at++];
    if (!kept) throw new RecordingError(`${this.#name}: ends where ${what} is needed`);
    this.line = kept.line;
    return kept.text.split(',').map((field) => field.trim());
  }

  number(what: string): number {
    const field = this.next(what)[0] ?? '';
    return this.toNumber(field) ?? this.fail(`"${excerpt(field)}" is no number; ${what} is needed`);
  }

  toNumber(field: string): number | null {
    const bytes = encodeText(field);
    const value = this.#parser.parse(bytes, 0, bytes.length);
    return Number.isNaN(value) ? null : value;
  }

  fail(says: string): never {
    throw new RecordingError(`${this.#name}: line ${this.line}: ${says}`);
  }
}

/** No year means 1991; years in between are the editions' drafts and national twins. */
function revisionOf(year: string): 1991 | 1999 | 2013 {
  const number = Number.parseInt(year, 10);
  if (Number.isNaN(number) || number <= 1991) return 1991;
  return number < 2013 ? 1999 : 2013;
}

function channelCounts(lines: ConfigLines) {
  const fields = lines.next('the number of channels ("8,8A,0D")');
  const count = (letter: string) => {
    const field = fields.find((each) => each.toUpperCase().endsWith(letter)) ?? '';
    const number = /^\d{1,6}\s*[AD]$/i.test(field) ? Number.parseInt(field, 10) : Number.NaN;
    return number <= mostChannels
      ? number
      : lines.fail(`"${excerpt(fields.join(','))}" counts no channels; "8,8A,0D" is right`);
  };
  return { analogCount: count('A'), statusCount: count('D') };
}

function readAnalog(lines: ConfigLines): AnalogChannel {
  const fields = lines.next('an analog channel');
  if (fields.length < 7)
    lines.fail(
      `the analog channel has ${fields.length} fields; 13 are right (10 in the 1991 edition)`,
    );
  const [, name = '', , , unit = '', a = '', b = '', skew = ''] = fields;
  const [, max = '', primary = '', secondary = '', side = ''] = fields.slice(8);
  const needed = (field: string, what: string) =>
    lines.toNumber(field) ??
    lines.fail(`${what} of channel "${excerpt(name)}" is "${excerpt(field)}"; a number is needed`);
  const ratio = (lines.toNumber(primary) ?? 1) / (lines.toNumber(secondary) ?? 1);
  const secondarySide = side.toUpperCase() === 'S' && ratio > 0 && Number.isFinite(ratio);
  return {
    name,
    unit,
    a: needed(a, 'the multiplier a'),
    b: b === '' ? 0 : needed(b, 'the offset b'),
    skewMicros: lines.toNumber(skew) ?? 0,
    max: lines.toNumber(max) ?? 99_999,
    toPrimary: secondarySide ? ratio : 1,
  };
}

/** `nrates` and its `samp,endsamp` lines; with 0 rates one line stands all the same. */
function readRates(lines: ConfigLines) {
  const count = lines.number('the number of sampling rates');
  if (!Number.isInteger(count) || count < 0 || count > 999)
    lines.fail(`${count} is no number of sampling rates`);
  let rateHz = 0;
  let rows = 0;
  for (let i = 0; i < Math.max(1, count); i++) {
    const [rate = '', end = ''] = lines.next('a sampling rate and its last row');
    const value = lines.toNumber(rate) ?? -1;
    rows = lines.toNumber(end) ?? -1;
    if (value < 0) lines.fail(`"${excerpt(rate)}" is no sampling rate`);
    if (!Number.isInteger(rows) || rows < 0)
      lines.fail(`"${excerpt(end)}" is no number of a last row`);
    if (i > 0 && value !== rateHz)
      lines.fail(
        `the rate changes from ${rateHz} to ${value} samples/s; ` +
          'only recordings of one rate are read',
      );
    rateHz = value;
  }
  return { rateHz: count === 0 ? 0 : rateHz, rows };
}

/** Times, file type, and what the later editions add behind it. */
function readTail(lines: ConfigLines, revision: number) {
  const times: string[][] = [];
  const kindOf = (text: string) => /^(ascii|binary32|binary|float32)$/i.exec(text)?.[1];
  while (!lines.ended && kindOf(lines.peek(0)) === undefined && times.length < 3)
    times.push(lines.next('a time'));
  const kind = kindOf(lines.next('the file type (ASCII, BINARY, BINARY32, FLOAT32)').join(','));
  if (kind === undefined) lines.fail('the file type is none of ASCII, BINARY, BINARY32, FLOAT32');
  const timeMultiplier = lines.ended ? 1 : (lines.toNumber(lines.next('timemult')[0] ?? '') ?? 1);
  const zone = lines.ended ? '' : (lines.next('the time code')[0] ?? '');
  // Nine decimals of a second make the timestamps count nanoseconds (2013 edition).
  const nanos = /\.\d{9}$/.test(times[0]?.[1] ?? '');
  return {
    startedAt: startOf(times[0], revision, zone),
    kind: (kind as string).toUpperCase() as DataKind,
    stampMicros: (timeMultiplier > 0 ? timeMultiplier : 1) * (nanos ? 1e-3 : 1),
  };
}

/** `dd/mm/yyyy` (1991: `mm/dd/yy`) and `hh:mm:ss.ssssss`, in UTC unless a time code shifts it. */
function startOf(fields: string[] | undefined, revision: number, zone: string): EpochMicros | null {
  const [, one, two, year] = /^(\d{1,2})\/(\d{1,2})\/(\d{1,4})$/.exec(fields?.[0] ?? '') ?? [];
  const [, hour, minute, second, part = ''] =
    /^(\d{1,2}):(\d{1,2}):(\d{1,2})(?:\.(\d{1,12}))?$/.exec(fields?.[1] ?? '') ?? [];
  if (year === undefined || second === undefined) return null;
  const clock = {
    hour: Number(hour),
    minute: Number(minute),
    second: Number(second),
    micros: Number(part.padEnd(6, '0').slice(0, 6)),
  };
  const first = Number(one);
  const other = Number(two);
  // A century is missing in the 1991 edition; digital records begin in the 1970s.
  const short = Number(year);
  const full = short >= 100 ? short : short + (short < 70 ? 2000 : 1900);
  const at = (month: number, day: number) =>
    epochMicros({ year: full, month, day, ...clock } satisfies CivilTime);
  const monthFirst = revision === 1991;
  const epoch = monthFirst
    ? (at(first, other) ?? at(other, first))
    : (at(other, first) ?? at(first, other));
  // The epoch itself is a clock that was never set.
  return epoch === null || epoch === 0 ? null : epoch - zoneMicros(zone);
}

/** `-5h30`, `+2`, `0` to microseconds that local time is ahead of UTC; `x` is not told. */
function zoneMicros(code: string): number {
  const [, sign, hours, minutes = '0'] = /^([+-]?)(\d{1,2})(?:h(\d{1,2}))?$/i.exec(code) ?? [];
  if (hours === undefined) return 0;
  return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60e6;
}
