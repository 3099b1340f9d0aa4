import type { Plate } from '../protocol/plate.ts';

/** A machine as each of its guns makes it; itself where the plate names none. */
export function gunsOf<Of extends Plate>(of: Of): { name: string | null; as: Of }[] {
  const { guns = [] } = of;
  if (guns.length === 0) return [{ name: null, as: of }];
  return guns.map(({ name, ...own }) => ({ name, as: { ...of, ...own } }));
}
