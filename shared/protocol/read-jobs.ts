import type { Static, TSchema } from 'typebox';
import {
  ClockWish,
  CouponArcs,
  NewCoupon,
  NewDestructive,
  NewJob,
  NewSetUp,
  NewVisual,
  Signed,
} from './jobs.ts';
import { asRead, type Fault, nameFaults, type Read, schemaFaults } from './schema-faults.ts';

/** Keys under which a length stands. */
const sizes = new Set([
  ...['thick', 'wire', 'leastButton', 'leastSize', 'mostUndercut', 'mostPore'],
  ...['measured', 'button'],
]);

/** A value by its schema, then what no schema says: one unit a length, text that can be read. */
const reader =
  <S extends TSchema>(schema: S) =>
  (value: unknown): Read<Static<S>> => {
    const faults = schemaFaults(schema, value);
    if (faults.length === 0) faults.push(...within(value, ''));
    return asRead<Static<S>>(value, faults, () => []);
  };

function within(value: unknown, path: string): Fault[] {
  if (typeof value === 'string') return nameFaults(value).map(({ says }) => ({ path, says }));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, each]) => {
    const at = Array.isArray(value) ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`;
    return [...(sizes.has(key) ? oneUnit(each, at) : []), ...within(each, at)];
  });
}

function oneUnit(size: { mm?: number; inches?: number }, path: string): Fault[] {
  if (size.mm !== undefined && size.inches !== undefined)
    return [{ path, says: 'has mm and inches: give one of them' }];
  if (size.mm === undefined && size.inches === undefined)
    return [{ path, says: 'has no length: give mm or inches' }];
  return [];
}

export const readNewJob = reader(NewJob);
export const readNewSetUp = reader(NewSetUp);
export const readNewCoupon = reader(NewCoupon);
export const readSigned = reader(Signed);
export const readClockWish = reader(ClockWish);
export const readCouponArcs = reader(CouponArcs);
export const readNewVisual = reader(NewVisual);
export const readNewDestructive = reader(NewDestructive);
