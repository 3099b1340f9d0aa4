import { expect, test } from 'vitest';
import { retryWaitMs } from '../../dashboard/web/src/live/retry-wait.ts';

test('a retry waits twice as long each time, a quarter more or less, at most ten seconds', () => {
  expect([0, 1, 2, 3, 4, 5, 60].map((tries) => retryWaitMs(tries, 0.5))).toEqual([
    500, 1_000, 2_000, 4_000, 8_000, 8_000, 8_000,
  ]);
  expect([retryWaitMs(0, 0), retryWaitMs(0, 1)]).toEqual([375, 625]);
  expect([retryWaitMs(99, 0), retryWaitMs(99, 1)]).toEqual([6_000, 10_000]);
});
