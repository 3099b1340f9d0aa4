/** Exit statuses of every verb. */
export const Exit = { done: 0, failed: 1, usage: 2, verdict: 3 } as const;

/** The caller's words are off: one line, exit 2. */
export class UsageError extends Error {
  override name = 'UsageError';
}

/** The world is not as it must be (file, port, broker): one line naming what and where, exit 1. */
export class OperatingError extends Error {
  override name = 'OperatingError';
}
