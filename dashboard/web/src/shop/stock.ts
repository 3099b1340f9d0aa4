import type { ComponentChildren } from 'preact';
import type { Faults } from './form.tsx';

/** A plate, a circuit or a feeder as it is stored, without saying which of them. */
export interface Stored<Value> {
  id: number;
  version: number;
  changedBy: string | null;
  retired: boolean;
  value: Value;
}

/** As it stood once. */
export interface Version<Value> {
  version: number;
  changedAt: string;
  changedBy: string | null;
  value: Value;
}

/** How one kind of thing is fetched, kept and shown; the editor does the rest for all. */
export interface Stock<Value> {
  newTitle: string;
  /** What a new one begins with. */
  blank?: Partial<Value>;
  /** What retiring it means, where that is not what it means for a plate. */
  retireSays?: string;
  all(): Promise<Stored<Value>[]>;
  save(of: { id: number; version: number } | null, value: Value): Promise<Stored<Value>>;
  retire(id: number, retired: boolean): Promise<Stored<Value>>;
  versions(
    id: number,
    before: number | null,
  ): Promise<{ versions: Version<Value>[]; next: number | null }>;
  fields(value: Partial<Value>, faults: Faults): ComponentChildren;
  /** As two of them are compared, where the value itself says little to a reader. */
  told?(value: Value): unknown;
  /** What is shown of it beside the form, as it is stored. */
  beside?(stored: Stored<Value>): ComponentChildren;
}
