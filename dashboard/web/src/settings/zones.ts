let known: readonly string[] | undefined;

/** Every time zone that this browser knows, made once: there are more than four hundred. */
export function zones(): readonly string[] {
  known ??= [...new Set(['UTC', ...Intl.supportedValuesOf('timeZone')])];
  return known;
}
