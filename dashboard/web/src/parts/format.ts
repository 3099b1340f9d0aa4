import { localeOf, timeZone } from './preferences.ts';
import { spoken } from './words.ts';

/** Formatters are dear to make and cheap to use: one of each kind, as long as its key holds. */
const made = new Map<string, Intl.NumberFormat | Intl.DateTimeFormat | Intl.Collator>();

/** By number of decimals: the live figures ask here twenty times a second. */
let figures: Intl.NumberFormat[] = [];
let figuresOf = '';

/** Figures as people read them: fixed decimals, a minus sign that is one, a dash for unknown. */
export function figure(value: number | null | undefined, decimals = 1): string {
  if (value === null || value === undefined || !Number.isFinite(value)) return '–';
  if (figuresOf !== spoken) {
    figures = [];
    figuresOf = spoken;
  }
  figures[decimals] ??= new Intl.NumberFormat(spoken, {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
    useGrouping: false,
    signDisplay: 'negative',
  });
  const written = figures[decimals].format(value);
  return value < 0 ? written.replace('-', '−') : written;
}

/** A figure with as many decimals as it has, up to `most`: such as what a person typed. */
export const plain = (value: number, most = 3): string =>
  kind(
    `plain ${spoken} ${most}`,
    () =>
      new Intl.NumberFormat(spoken, {
        maximumFractionDigits: most,
        useGrouping: false,
        signDisplay: 'negative',
      }),
  )
    .format(value)
    .replace('-', '−');

/** What a person typed with a point or a comma; null where it is no figure. */
export function typed(text: string): number | null {
  const plain = text.trim().replace('−', '-').replace(',', '.');
  const value = Number(plain);
  return plain === '' || !Number.isFinite(value) ? null : value;
}

const styles = {
  clock: { hour: '2-digit', minute: '2-digit', second: '2-digit' },
  minute: { hour: 'numeric', minute: '2-digit' },
  day: { day: 'numeric', month: 'short', year: 'numeric' },
  dayOfYear: { day: 'numeric', month: 'short' },
} as const satisfies Record<string, Intl.DateTimeFormatOptions>;

/** A moment in the language spoken and the shop's time zone, or the one of this device. */
function write(style: keyof typeof styles, when: string | number): string {
  const zone = timeZone.value;
  return kind(
    `${style} ${spoken} ${zone}`,
    () =>
      new Intl.DateTimeFormat(localeOf(spoken), {
        ...styles[style],
        ...(zone === undefined ? {} : { timeZone: zone }),
      }),
  ).format(typeof when === 'string' ? Date.parse(when) : when);
}

/** Times are RFC 3339 or epoch ms. */
export const clock = (when: string | number): string => write('clock', when);
/** Day and time of day. */
export const when = (at: string | number): string => `${day(at)} ${clock(at)}`;
export const minute = (when: string | number): string => write('minute', when);
export const day = (when: string | number): string => write('day', when);
export const dayOfYear = (when: string | number): string => write('dayOfYear', when);

/** The order in which the language lists names: "Bay 2" before "Bay 10". */
export const inOrder = (one: string, other: string): number =>
  kind(`order ${spoken}`, () => new Intl.Collator(spoken, { numeric: true })).compare(one, other);

function kind<T extends Intl.NumberFormat | Intl.DateTimeFormat | Intl.Collator>(
  key: string,
  make: () => T,
): T {
  const known = made.get(key);
  if (known) return known as T;
  const fresh = make();
  made.set(key, fresh);
  return fresh;
}
