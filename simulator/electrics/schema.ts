/** What is wrong with a value, and where: `bays[0].machine.ohms`. */
export interface Problem {
  path: string;
  says: string;
}

/** Reads a value of unknown make; notes problems, and then what it returns is not to be used. */
export interface Shape<T> {
  read(value: unknown, path: string, problems: Problem[]): T;
  /** Stands in for an absent key; absent itself where the key must be there. */
  readonly absent?: { value: T };
}
export type Of<S> = S extends Shape<infer T> ? T : never;
type Fields = Record<string, Shape<unknown>>;
type MayMiss<F extends Fields> = {
  [K in keyof F]: undefined extends Of<F[K]> ? K : never;
}[keyof F];
type Read<F extends Fields> = { [K in Exclude<keyof F, MayMiss<F>>]: Of<F[K]> } & {
  [K in MayMiss<F>]?: Exclude<Of<F[K]>, undefined>;
};
type Flat<T> = { [K in keyof T]: T[K] };

const show = (value: unknown): string => (JSON.stringify(value) ?? String(value)).slice(0, 40);

function leaf<T>(wanted: string, fits: (value: unknown) => boolean): Shape<T> {
  return {
    read(value, path, problems) {
      if (!fits(value)) problems.push({ path, says: `is ${show(value)}; wanted ${wanted}` });
      return value as T;
    },
  };
}

export const number = (min: number, max: number): Shape<number> =>
  leaf(`a number from ${min} to ${max}`, (v) => typeof v === 'number' && v >= min && v <= max);

export const whole = (min: number, max: number): Shape<number> =>
  leaf(
    `a whole number from ${min} to ${max}`,
    (v) => Number.isInteger(v) && Number(v) >= min && Number(v) <= max,
  );

export const text = (max: number): Shape<string> =>
  leaf(
    `text of 1 to ${max} characters`,
    (v) => typeof v === 'string' && v.length > 0 && v.length <= max,
  );

/** Fit for a topic, a file and a flag. */
export const slug: Shape<string> = leaf(
  'lower-case letters, digits and hyphens, at most 40',
  (v) => typeof v === 'string' && /^[a-z0-9][a-z0-9-]{0,39}$/.test(v),
);

export const flag: Shape<boolean> = leaf('true or false', (v) => typeof v === 'boolean');

export const choice = <const T extends readonly (string | number)[]>(
  ...names: T
): Shape<T[number]> =>
  leaf(`one of ${names.join(', ')}`, (v) => names.includes(v as string | number));

export const where = <T>(wanted: string, fits: (value: unknown) => value is T): Shape<T> =>
  leaf(wanted, fits);

export const nullable = <T>(shape: Shape<T>): Shape<T | null> => ({
  read: (value, path, problems) => (value === null ? null : shape.read(value, path, problems)),
});

export const optional = <T>(shape: Shape<T>): Shape<T | undefined> => ({
  ...shape,
  absent: { value: undefined },
});

export const or = <T>(value: NoInfer<T>, shape: Shape<T>): Shape<T> => ({
  ...shape,
  absent: { value },
});

/** Two numbers, the first not above the second. */
export function range(min: number, max: number): Shape<[number, number]> {
  const one = (v: unknown) => typeof v === 'number' && v >= min && v <= max;
  return leaf(
    `[low, high] within ${min} to ${max}`,
    (v) => Array.isArray(v) && v.length === 2 && v.every(one) && v[0] <= v[1],
  );
}

export function list<T>(shape: Shape<T>, min: number, max: number): Shape<T[]> {
  return {
    read(value, path, problems) {
      if (!Array.isArray(value) || value.length < min || value.length > max) {
        problems.push({ path, says: `is ${show(value)}; wanted a list of ${min} to ${max}` });
        return [];
      }
      return value.map((each, at) => shape.read(each, `${path}[${at}]`, problems));
    },
  };
}

export function object<F extends Fields>(fields: F): Shape<Flat<Read<F>>> {
  return {
    read(value, path, problems) {
      const out: Record<string, unknown> = {};
      if (typeof value !== 'object' || value === null || Array.isArray(value)) {
        problems.push({
          path: path || 'the scenario',
          says: `is ${show(value)}; wanted an object`,
        });
        return out as Read<F>;
      }
      const given = new Map(Object.entries(value));
      for (const key of given.keys()) {
        if (Object.hasOwn(fields, key)) continue;
        const known = Object.keys(fields).join(', ');
        problems.push({ path: dotted(path, key), says: `is not known; known are ${known}` });
      }
      for (const [key, shape] of Object.entries(fields)) {
        const there = given.has(key) && given.get(key) !== undefined;
        if (there) out[key] = shape.read(given.get(key), dotted(path, key), problems);
        else if (!shape.absent) problems.push({ path: dotted(path, key), says: 'is missing' });
        else if (shape.absent.value !== undefined) out[key] = shape.absent.value;
      }
      return out as Read<F>;
    },
  };
}

/** An object whose `kind` says which of several it is. */
export function kinds<F extends Record<string, Fields>>(
  table: F,
): Shape<{ [K in keyof F]: Flat<{ kind: K } & Read<F[K]>> }[keyof F]> {
  return {
    read(value, path, problems) {
      const kind = (value as { kind?: unknown } | null)?.kind;
      if (typeof kind !== 'string' || !Object.hasOwn(table, kind)) {
        const known = Object.keys(table).join(', ');
        problems.push({ path: dotted(path, 'kind'), says: `is ${show(kind)}; wanted ${known}` });
        return value as never;
      }
      return object({ kind: choice(kind), ...table[kind] }).read(value, path, problems) as never;
    },
  };
}

const dotted = (path: string, key: string): string => (path ? `${path}.${key}` : key);
