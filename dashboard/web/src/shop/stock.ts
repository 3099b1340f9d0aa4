import type { ComponentChildren } from 'preact';
import type { Faults } from './form.tsx';

/** A plate or a circuit as it is stored, without saying which of the two. */
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
  all(): Promise<Stored<Value>[]>;
  save(of: { id: number; version: number } | null, value: Value): Promise<Stored<Value>>;
  retire(id: number, retired: boolean): Promise<Stored<Value>>;
  versions(
    id: number,
    before: number | null,
  ): Promise<{ versions: Version<Value>[]; next: number | null }>;
  fields(value: Partial<Value>, faults: Faults): ComponentChildren;
}
