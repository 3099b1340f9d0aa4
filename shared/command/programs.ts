import type { Flag, Verb } from './flags.ts';

/** A program behind a verb: its flags, and `main`, which answers with the exit status. */
export interface Program {
  verb: Verb<Record<string, Flag>>;
  main(argv: readonly string[], signal: AbortSignal): Promise<number>;
}

/** Every verb, loaded when it is asked for. */
export type Programs = Readonly<Record<string, () => Promise<Program>>>;
