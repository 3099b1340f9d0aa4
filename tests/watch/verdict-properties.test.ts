import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { feed, judged, watchOf } from './judged.ts';
import { quietSupply, type Synth, samples } from './synth.ts';

/**
 * What physics says of a judgement, whatever the supply: asked of the whole pipeline, samples in,
 * verdict out. Signals in the closed form of sines; the noise is drawn anew for each record.
 */

const rateHz = 2560;
const runs = { numRuns: 40, seed: 12 };

/** Three beads over a supply that may be anything from a bar of copper to a bad joke. */
const supplies = fc.record({
  volts: fc.double({ min: 226, max: 250, noNaN: true }),
  ohmsR: fc.double({ min: 0.02, max: 1.4, noNaN: true }),
  ohmsX: fc.double({ min: 0, max: 0.3, noNaN: true }),
  amps: fc.double({ min: 10, max: 30, noNaN: true }),
  lag: fc.double({ min: 0, max: 0.4, noNaN: true }),
  seed: fc.integer({ min: 1, max: 1e6 }),
});
type Drawn = Pick<Synth, 'volts' | 'ohmsR' | 'ohmsX' | 'lag'> & { amps: number; seed: number };

const plate: Plate = {
  name: 'welder',
  phases: 1,
  hertz: [60],
  supply: [{ U1: 240, I1max: 30, I1eff: 15 }],
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
};

const beads = (amps: number, from = 1.5) =>
  [0, 1, 2].map((k) => ({ startS: from + 2.5 * k, endS: from + 2.5 * k + 1.5, amps }));

const synthOf = (drawn: Drawn, more: Partial<Synth> = {}): Synth => ({
  ...quietSupply,
  rateHz,
  seconds: 9,
  noiseVolts: 0.08,
  noiseAmps: 0.03,
  ...drawn,
  arcs: beads(drawn.amps),
  ...more,
});

const judge = (drawn: Drawn, more: Partial<Synth> = {}, of: Plate = plate): Judgement => {
  const synth = synthOf(drawn, more);
  return judged(synth.rateHz, samples(synth, drawn.seed), { plate: of });
};

/** The lowest full-load voltage that the judgement foretells, or null where it refuses to. */
const predicted = ({ findings }: Judgement): number | null =>
  findings.find(({ rule }) => rule === 'full-load')?.measured ?? null;

describe('whatever the supply', () => {
  test('more resistance never improves the verdict', () => {
    fc.assert(
      fc.property(supplies, fc.double({ min: 0.1, max: 1, noNaN: true }), (drawn, more) => {
        const before = judge(drawn);
        const after = judge({ ...drawn, ohmsR: drawn.ohmsR + more });
        // What is known to fail may come to be unprovable; it never comes to be good.
        const bad = rank('marginal');
        expect(rank(after.verdict)).toBeGreaterThanOrEqual(Math.min(rank(before.verdict), bad));
        if (before.verdict === 'underpowered') expect(after.verdict).not.toBe('adequate');
      }),
      runs,
    );
  });

  test('a bead at more current never raises the voltage predicted at full load', () => {
    fc.assert(
      fc.property(supplies, (drawn) => {
        const light = predicted(judge({ ...drawn, amps: 14 }));
        const heavy = predicted(judge({ ...drawn, amps: 28 }));
        if (light === null || heavy === null) return;
        // The same supply: the two agree within their own spread, 1 % of the plate's volts.
        expect(heavy - light).toBeLessThan(2.4);
      }),
      runs,
    );
  });

  test('half the volts on a quarter of the ohms gets the same verdict', () => {
    const half: Plate = { ...plate, supply: [{ U1: 120, I1max: 30, I1eff: 15 }] };
    fc.assert(
      fc.property(supplies, (drawn) => {
        const { volts, ohmsR, ohmsX } = drawn;
        const whole = judge(drawn);
        const scaled = judge(
          { ...drawn, volts: volts / 2, ohmsR: ohmsR / 2, ohmsX: ohmsX / 2 },
          { noiseVolts: 0.04 },
          half,
        );
        expect(scaled.verdict).toBe(whole.verdict);
      }),
      runs,
    );
  });

  test('a record that begins later gets the same verdict', () => {
    fc.assert(
      fc.property(supplies, fc.double({ min: 0.05, max: 1.4, noNaN: true }), (drawn, later) => {
        const before = judge(drawn);
        const after = judge(drawn, { seconds: 9 + later, arcs: beads(drawn.amps, 1.5 + later) });
        expect(after.verdict).toBe(before.verdict);
      }),
      runs,
    );
  });

  test('a record played twice gets the same verdict', () => {
    fc.assert(
      fc.property(supplies, (drawn) => {
        const once = samples(synthOf(drawn), drawn.seed);
        // Nine seconds of 60 Hz are whole cycles: the second pass goes on where the first ended.
        const twice = once.map((each) => Float64Array.from([...each, ...each]));
        expect(judged(rateHz, twice, { plate }).verdict).toBe(
          judged(rateHz, once, { plate }).verdict,
        );
      }),
      runs,
    );
  });

  test('twice the samples give the same figures', () => {
    fc.assert(
      fc.property(supplies, (drawn) => {
        const one = judge(drawn, { rateHz: 5120 });
        const two = judge(drawn, { rateHz: 10_240 });
        expect(two.verdict).toBe(one.verdict);
        expect(two.arcs).toHaveLength(one.arcs.length);
        one.arcs.forEach(({ channels }, k) => {
          const [a, b] = [channels[0]!, two.arcs[k]!.channels[0]!];
          expect(b.meanVolts / a.meanVolts).toBeCloseTo(1, 3);
          expect(b.meanAmps / a.meanAmps).toBeCloseTo(1, 2);
          expect(b.minVolts200ms / a.minVolts200ms).toBeCloseTo(1, 3);
        });
      }),
      { numRuns: 15, seed: 12 },
    );
  });

  test('lost samples never turn a verdict good', () => {
    const gaps = fc.array(
      fc.record({
        atS: fc.double({ min: 0.2, max: 8, noNaN: true }),
        seconds: fc.double({ min: 0.002, max: 1.5, noNaN: true }),
      }),
      { minLength: 1, maxLength: 4 },
    );
    fc.assert(
      fc.property(supplies, gaps, (drawn, lost) => {
        const channels = samples(synthOf(drawn), drawn.seed);
        const whole = judged(rateHz, channels, { plate });
        const torn = withGaps(channels, lost);
        if (torn.verdict === 'adequate') expect(whole.verdict).toBe('adequate');
      }),
      runs,
    );
  });
});

describe('with two pairs', () => {
  test('which pair comes first does not decide', () => {
    fc.assert(
      fc.property(supplies, fc.double({ min: 0.5, max: 2, noNaN: true }), (drawn, uneven) => {
        const legs = splitPhase(drawn, uneven);
        const swapped = [...legs.slice(2), ...legs.slice(0, 2)];
        const one = judged(rateHz, legs, { plate });
        const other = judged(rateHz, swapped, { plate });
        expect(other.verdict).toBe(one.verdict);
        expect(predicted(other)).toBeCloseTo(predicted(one) ?? Number.NaN, 1);
      }),
      { numRuns: 25, seed: 12 },
    );
  });

  test('a split phase gets the verdict of its one loop', () => {
    fc.assert(
      fc.property(supplies, (drawn) => {
        const loop = judge(drawn).verdict;
        const legs = judged(rateHz, splitPhase(drawn, 1), { plate }).verdict;
        // The sum of two noises lies nearer a limit, or farther, than one: neighbours are one word.
        expect(Math.abs(rank(legs) - rank(loop))).toBeLessThanOrEqual(loop === legs ? 0 : 3);
        if (loop === 'underpowered') expect(legs).not.toBe('adequate');
        if (loop === 'adequate') expect(legs).not.toBe('underpowered');
      }),
      { numRuns: 25, seed: 12 },
    );
  });
});

/** The loop's volts and ohms shared between two legs 180 degrees apart, `uneven` to one. */
function splitPhase(drawn: Drawn, uneven: number): Float64Array[] {
  const share = uneven / (1 + uneven);
  const leg = (part: number, turn: number, seed: number) => {
    const { volts, ohmsR, ohmsX } = drawn;
    const [v, i] = samples(
      synthOf(
        { ...drawn, volts: volts / 2, ohmsR: ohmsR * part, ohmsX: ohmsX * part },
        { phase: 0.7 + turn },
      ),
      seed,
    );
    return [v, i];
  };
  return [...leg(share, 0, drawn.seed), ...leg(1 - share, Math.PI, drawn.seed + 1)];
}

function withGaps(
  channels: readonly Float64Array[],
  gaps: readonly { atS: number; seconds: number }[],
): Judgement {
  const watch = watchOf(rateHz, channels.length / 2, { plate });
  const frames = channels[0]!.length;
  const isLost = new Uint8Array(frames);
  for (const { atS, seconds } of gaps)
    isLost.fill(1, Math.round(atS * rateHz), Math.round((atS + seconds) * rateHz));
  for (let from = 0; from < frames; ) {
    let to = from + 1;
    while (to < frames && isLost[to] === isLost[from]) to++;
    if (isLost[from]) watch.skip(to - from, 'lost');
    else
      feed(
        watch,
        channels.map((each) => each.subarray(from, to)),
      );
    from = to;
  }
  watch.end();
  return watch.judgement('test');
}
