import { type Static, Type } from 'typebox';

export const Process = Type.Union([
  Type.Literal('mig-steel'),
  Type.Literal('mig-aluminium'),
  Type.Literal('mig-braze'),
]);
export type Process = Static<typeof Process>;
