import type { EpochMicros } from '../units.ts';

export interface CivilTime {
  year: number;
  /** 1 to 12. */
  month: number;
  day: number;
  hour: number;
  minute: number;
  second: number;
  micros: number;
}

/**
 * Microseconds since 1970 of a UTC date, or null where there is no such date. Days are counted in
 * 400-year eras that begin on 1 March, so that the leap day is an era year's last.
 */
export function epochMicros(time: CivilTime): EpochMicros | null {
  const { year, month, day, hour, minute, second, micros } = time;
  if (!(month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month))) return null;
  // 60: a leap second.
  if (!(hour <= 24 && minute <= 59 && second <= 60 && year >= 1 && year <= 2200)) return null;
  const marchYear = month <= 2 ? year - 1 : year;
  const era = Math.floor(marchYear / 400);
  const yearOfEra = marchYear - era * 400;
  const dayOfYear = Math.floor((153 * ((month + 9) % 12) + 2) / 5) + day - 1;
  const dayOfEra =
    yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  const days = era * 146_097 + dayOfEra - 719_468;
  return ((days * 24 + hour) * 60 + minute) * 60e6 + second * 1e6 + micros;
}

function daysIn(year: number, month: number): number {
  if (month !== 2) return [4, 6, 9, 11].includes(month) ? 30 : 31;
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0) ? 29 : 28;
}

/** The UTC date of a time; its inverse. */
export function civilTime(epoch: EpochMicros): CivilTime {
  const days = Math.floor(epoch / 86_400e6);
  const rest = epoch - days * 86_400e6;
  const shifted = days + 719_468;
  const era = Math.floor(shifted / 146_097);
  const dayOfEra = shifted - era * 146_097;
  const yearOfEra = Math.floor(
    (dayOfEra -
      Math.floor(dayOfEra / 1460) +
      Math.floor(dayOfEra / 36_524) -
      Math.floor(dayOfEra / 146_096)) /
      365,
  );
  const dayOfYear =
    dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100));
  const marchMonth = Math.floor((5 * dayOfYear + 2) / 153);
  const month = marchMonth < 10 ? marchMonth + 3 : marchMonth - 9;
  return {
    year: yearOfEra + era * 400 + (month <= 2 ? 1 : 0),
    month,
    day: dayOfYear - Math.floor((153 * marchMonth + 2) / 5) + 1,
    hour: Math.floor(rest / 3600e6),
    minute: Math.floor(rest / 60e6) % 60,
    second: Math.floor(rest / 1e6) % 60,
    micros: Math.floor(rest % 1e6),
  };
}

const stamp = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d):(\d\d)(?:\.(\d{1,9}))?Z$/;

/** `2026-11-25T06:59:08.123456Z` to a time; null where it is not that. */
export function parseStamp(text: string): EpochMicros | null {
  const found = stamp.exec(text);
  if (!found) return null;
  const [year, month, day, hour, minute, second] = found.slice(1, 7).map(Number) as number[];
  const micros = Math.floor(Number(`0.${found[7] ?? '0'}`) * 1e6 + 1e-4);
  return epochMicros({
    year: year!,
    month: month!,
    day: day!,
    hour: hour!,
    minute: minute!,
    second: second!,
    micros,
  });
}

/** A time as `2026-11-25T06:59:08.123456Z`. */
export function formatStamp(epoch: EpochMicros): string {
  const { year, month, day, hour, minute, second, micros } = civilTime(epoch);
  const two = (value: number) => String(value).padStart(2, '0');
  const date = `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
  return `${date}T${two(hour)}:${two(minute)}:${two(second)}.${String(micros).padStart(6, '0')}Z`;
}
