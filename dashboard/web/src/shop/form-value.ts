/** What a form's text becomes; a field says which by its `data-kind`. */
export type FieldKind = 'text' | 'number' | 'percent' | 'flag' | 'numbers' | 'gauge' | 'length';

export interface FieldText {
  /** Where in the value it stands: `supply[0].I1max`. */
  path: string;
  kind: FieldKind;
  text: string;
}

type Tree = { [key: string]: unknown };

/**
 * The value that a form's fields describe. What is left empty is left out. Text that is no number
 * goes on as it is: the server says what is wrong with it, by its path.
 */
export function formValue(fields: readonly FieldText[]): Tree {
  const value: Tree = {};
  for (const { path, kind, text } of fields) {
    const trimmed = text.trim();
    if (trimmed === '') continue;
    if (kind === 'gauge' || kind === 'length') {
      // "awg 12", "mm2 2.5", "feet 25": the unit is a key beside the others.
      const [unit = '', figure = ''] = trimmed.split(' ');
      if (figure !== '') put(value, path.replace(/[^.]+$/, unit), number(figure));
    } else put(value, path, reading(kind, trimmed));
  }
  return value;
}

function reading(kind: FieldKind, text: string): unknown {
  if (kind === 'number') return number(text);
  if (kind === 'percent') {
    const percent = number(text);
    return typeof percent === 'number' ? Number((percent / 100).toPrecision(6)) : percent;
  }
  if (kind === 'flag') return text === 'yes';
  if (kind === 'numbers') return numbers(text);
  return text;
}

/** Blanks part them, and a comma that is none of a figure: "0.023, 0.03" or "0,023 0,03". */
export const numbers = (text: string): (number | string)[] =>
  text
    .split(/[\s;]+/)
    .flatMap((part) => (part.includes('.') ? part.split(',') : part.replace(/,$/, '')))
    .filter((part) => part !== '')
    .map(number);

function number(text: string): number | string {
  const value = Number(text.replace(',', '.'));
  return Number.isFinite(value) ? value : text;
}

/** `supply[0].I1max` → supply → 0 → I1max; lists and objects are made on the way. */
function put(root: Tree, path: string, value: unknown): void {
  const steps = path.split(/[.[\]]+/).filter((step) => step !== '');
  let at = root;
  steps.slice(0, -1).forEach((step, index) => {
    at[step] ??= /^\d+$/.test(steps[index + 1]!) ? [] : {};
    at = at[step] as Tree;
  });
  at[steps.at(-1)!] = value;
}

/** The server's sentence taken apart: what is wrong, by path; '' for what has no place. */
export function faultsByPath(detail: string): Map<string, string> {
  const faults = new Map<string, string>();
  for (const part of detail.split('; ')) {
    const [, path = '', says = part] = /^([a-zA-Z][\w.[\]]*) (.+)$/.exec(part) ?? [];
    faults.set(path, says);
  }
  return faults;
}
