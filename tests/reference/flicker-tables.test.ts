import { describe, expect, test } from 'vitest';
import { Flickermeter } from '../../shared/metrology/flicker.ts';
import { play } from '../metrology/flicker-signal.ts';
import { SHORT_TERM } from '../metrology/flicker-tables.ts';

const RATE = 10_240;

describe.each([
  ['120V60Hz', 60],
  ['230V50Hz', 50],
] as const)('Pst of a %s lamp over ten minutes is 1 within 5 percent', (lamp, hertz) => {
  const { at, percent } = SHORT_TERM[lamp];
  test.each(at.map((changes, n) => [changes, percent[n]!] as const))(
    '%i changes a minute of %f percent',
    (changes, change) => {
      let pst = NaN;
      // A minute to settle, then a whole period of the clock.
      const meter = new Flickermeter(
        { rateHz: RATE, lamp, startedAt: 540e6 },
        {
          flicker: (row) => {
            if (row.whole) pst = row.pst;
          },
        },
      );
      play(
        meter,
        {
          rateHz: RATE,
          hertz,
          modulationHertz: changes / 120,
          change: change / 100,
          shape: 'rectangular',
        },
        660.5,
      );
      expect(Math.abs(pst - 1)).toBeLessThan(0.05);
    },
  );
});
