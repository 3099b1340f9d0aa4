import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  civilTime,
  epochMicros,
  formatStamp,
  parseStamp,
} from '../../shared/recording/civil-time.ts';

describe('civil time', () => {
  test('agrees with the platform from 1900 to 2199', () => {
    const from = Date.UTC(1900, 0, 1);
    const to = Date.UTC(2199, 11, 31);
    fc.assert(
      fc.property(fc.integer({ min: from, max: to }), (ms) => {
        const time = civilTime(ms * 1000);
        expect(epochMicros(time)).toBe(ms * 1000);
        expect(formatStamp(ms * 1000).slice(0, 23)).toBe(new Date(ms).toISOString().slice(0, 23));
        expect(parseStamp(formatStamp(ms * 1000 + 7))).toBe(ms * 1000 + 7);
      }),
      { numRuns: 1000 },
    );
  });

  test.each(['2025-02-29T00:00:00Z', '2100-02-29T00:00:00Z', '2026-13-01T00:00:00Z', 'today'])(
    'knows no %s',
    (text) => {
      expect(parseStamp(text)).toBeNull();
    },
  );
});
