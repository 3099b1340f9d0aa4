/** First wait before trying anew, and the longest; each try doubles it. */
const firstWaitMs = 500;
const longestWaitMs = 8_000;

/**
 * Wait before try number `tries`, ms: a quarter more or less by `chance` (0 to 1), so that the
 * pages of a whole shop do not all come at once to a server that has just started.
 */
export function retryWaitMs(tries: number, chance: number): number {
  return Math.min(longestWaitMs, firstWaitMs * 2 ** tries) * (0.75 + chance / 2);
}
