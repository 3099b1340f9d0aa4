/** Stops on a programmer's error. Faults of the world and findings are values, never this. */
export function assert(condition: unknown, says: string): asserts condition {
  if (!condition) throw new Error(`assertion failed: ${says}`);
}
