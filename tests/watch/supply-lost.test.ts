import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { judged, plate240 } from './judged.ts';
import { quietSupply, type Synth, samples } from './synth.ts';

const circuit = { name: 'bay 2', volts: 240, dedicated: true, breakerAmps: 26 };

interface Loss {
  pairs: number;
  amps: number;
  /** When the load begins, when it ends by itself, when the voltage goes; s. */
  from: number;
  to: number;
  goneS: number;
  /** Pairs that lose it; the others live on. */
  gone?: number;
}

/** Sines in closed form; what goes is zero from then on, voltage and current. */
function record({ pairs, amps, from, to, goneS, gone = pairs }: Loss): Float64Array[] {
  const volts = pairs === 1 ? 240 : pairs === 2 ? 120 : 240 / Math.sqrt(3);
  const turn = pairs === 2 ? Math.PI : (2 * Math.PI) / 3;
  return Array.from({ length: pairs }, (_, pair) => {
    const synth: Synth = {
      ...{ ...quietSupply, volts, seconds: 9, phase: 0.7 + pair * turn },
      arcs: [{ startS: from, endS: to, amps }],
      noiseVolts: 0.2,
      noiseAmps: 0.05,
    };
    const channels = samples(synth, pair + 1);
    if (pair < gone)
      for (const each of channels) each.fill(0, Math.round(goneS * quietSupply.rateHz));
    return channels;
  }).flat();
}

const lostOf = (loss: Loss, of = circuit): Finding | undefined =>
  judged(quietSupply.rateHz, record(loss), { plate: plate240, circuit: of }).findings.find(
    ({ saying }) => saying?.name === 'supplyLost',
  );

describe('a supply that vanishes under load', () => {
  test.each([1, 2, 3])('%i pairs: lost, with the amperes and since when', (pairs) => {
    fc.assert(
      fc.property(
        fc.double({ min: 8, max: 60, noNaN: true }),
        fc.double({ min: 1, max: 2, noNaN: true }),
        fc.double({ min: 0.3, max: 5, noNaN: true }),
        (amps, from, long) => {
          const found = lostOf({ pairs, amps, from, to: 9, goneS: from + long })!;
          const { figures } = found.saying!;
          expect((figures.amps as number) / amps).toBeCloseTo(1, 1);
          expect(Math.abs((figures.seconds as number) - long)).toBeLessThan(0.05);
          expect(found.atS![0]).toBeCloseTo(from + long, 1);
          expect(found).toMatchObject({ rule: 'sag', verdict: 'marginal', required: false });
        },
      ),
      { numRuns: 6 },
    );
  });

  test('says what was seen, and never that a breaker tripped', () => {
    const found = lostOf({ pairs: 1, amps: 34, from: 1.2, to: 9, goneS: 5.2 })!;
    expect(found.says).toBe(
      'Supply lost at 34 A after 4.0 s: the voltage vanished while the machine drew current.',
    );
    expect(found.electrician).toMatch(/breaker, a fuse, a plug or the utility.*cannot tell/);
    expect(found.electrician).toMatch(/131 % of its rating, a 26 A breaker may trip at any time/);
    expect(`${found.says} ${found.electrician}`).not.toMatch(/tripped/);
    const { breakerAmps: _, ...unknown } = circuit;
    const bare = lostOf({ pairs: 1, amps: 34, from: 1.2, to: 9, goneS: 5.2 }, unknown as never)!;
    expect(bare.electrician).not.toMatch(/rating/);
  });

  test('with the machine idle, or its weld over, nothing was lost under load', () => {
    expect(lostOf({ pairs: 1, amps: 0.3, from: 1, to: 9, goneS: 5 })).toBe(undefined);
    expect(lostOf({ pairs: 1, amps: 34, from: 1, to: 4, goneS: 5 })).toBe(undefined);
    expect(lostOf({ pairs: 2, amps: 34, from: 1, to: 4, goneS: 5 })).toBe(undefined);
  });

  test('one leg of two, or one phase of three, is no supply that is gone', () => {
    expect(lostOf({ pairs: 2, amps: 34, from: 1, to: 9, goneS: 5, gone: 1 })).toBe(undefined);
    expect(lostOf({ pairs: 3, amps: 34, from: 1, to: 9, goneS: 5, gone: 1 })).toBe(undefined);
  });

  test('a voltage that stays is not lost', () => {
    expect(lostOf({ pairs: 1, amps: 34, from: 1, to: 8, goneS: 20 })).toBe(undefined);
  });
});
