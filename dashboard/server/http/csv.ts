/** RFC 4180; a text that a spreadsheet would take for a formula is marked as text. */
export function csvLine(cells: readonly (string | number | null | undefined)[]): string {
  return `${cells.map(cell).join(',')}\r\n`;
}

function cell(value: string | number | null | undefined): string {
  if (value === null || value === undefined) return '';
  if (typeof value === 'number') return Number.isFinite(value) ? String(value) : '';
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** A figure as short as its last digit means something. */
export const rounded = (value: number | null | undefined, decimals: number): number | null =>
  value === null || value === undefined || !Number.isFinite(value)
    ? null
    : Number(value.toFixed(decimals));
