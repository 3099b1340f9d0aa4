import { defineConfig } from 'vitest/config';

/**
 * Tiers by patience. `unit` is pure and fast; `reference` asks tools nobody here wrote;
 * `simulation` runs the whole system on a virtual clock; `system` starts real programs; `e2e`
 * drives Chromium. All but the first run one file at a time: they keep wall-clock promises, and on
 * two cores shared among them they would measure each other.
 */
const slow = (name: string, groupOrder: number) => ({
  test: {
    name,
    include: [`tests/${name}/**/*.test.ts`],
    testTimeout: 180_000,
    hookTimeout: 180_000,
    fileParallelism: false,
    sequence: { groupOrder },
  },
});

export default defineConfig({
  test: {
    reporters: ['default', ['json', { outputFile: 'tests/.out/report.json' }]],
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/{reference,simulation,system,e2e}/**'],
          testTimeout: 20_000,
          // Collections are counted in some tests: a young space that grows by itself would make
          // the count depend on what ran before.
          execArgv: ['--min-semi-space-size=16', '--max-semi-space-size=16'],
          sequence: { groupOrder: 0 },
        },
      },
      slow('reference', 1),
      slow('simulation', 2),
      slow('system', 3),
      slow('e2e', 4),
    ],
  },
});
