import { describe, expect, test } from 'vitest';
import { broken } from './invariants.ts';
import { storyOf } from './story.ts';

/**
 * Firmware, link, ingest, watch and store in one process on a virtual clock, with faults drawn from
 * a seed. What must hold whatever happens stands in invariants.ts.
 *
 * STIFFLINE_SIMULATION_SEED=17 runs one seed and prints its story; STIFFLINE_SIMULATION_SEEDS=4000
 * runs as many, from STIFFLINE_SIMULATION_FROM on.
 */
const one = process.env.STIFFLINE_SIMULATION_SEED;
const from = Number(one ?? process.env.STIFFLINE_SIMULATION_FROM ?? 1);
const seeds = one ? 1 : Number(process.env.STIFFLINE_SIMULATION_SEEDS ?? 200);
/** Seeds of one test, so that a failure is told while others still run. */
const batch = 20;

describe('the whole system, whatever fails', () => {
  const starts = Array.from({ length: Math.ceil(seeds / batch) }, (_, n) => from + n * batch);
  test.each(starts)('seeds from %i on', (start) => {
    for (let seed = start; seed < Math.min(start + batch, from + seeds); seed++) {
      const story = storyOf(seed);
      if (one) console.log(JSON.stringify(story, null, 2));
      const replay = `STIFFLINE_SIMULATION_SEED=${seed} npx vitest run tests/simulation/whole`;
      expect(broken(story), `seed ${seed}; again by: ${replay}`).toEqual([]);
    }
  });
});
