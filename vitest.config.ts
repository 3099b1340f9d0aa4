import { defineConfig } from 'vitest/config';

/**
 * Tiers by patience. `unit` is pure and fast; `system` starts real programs; `reference` asks
 * tools nobody here wrote; `e2e` drives Chromium. One file at a time in the last three: they
 * measure wall-clock promises, and two cores shared among them would measure the neighbour.
 */
const tier = (name: string, include: string[], testTimeout: number, parallel: boolean) => ({
  test: {
    name,
    include,
    testTimeout,
    hookTimeout: testTimeout,
    fileParallelism: parallel,
    sequence: { groupOrder: parallel ? 0 : 1 },
  },
});

export default defineConfig({
  test: {
    projects: [
      {
        ...tier('unit', ['tests/**/*.test.{ts,tsx}'], 20_000, true),
        test: {
          ...tier('unit', ['tests/**/*.test.{ts,tsx}'], 20_000, true).test,
          exclude: ['tests/{system,reference,e2e,simulation}/**'],
        },
      },
      tier('reference', ['tests/reference/**/*.test.ts'], 120_000, false),
      tier('simulation', ['tests/simulation/**/*.test.ts'], 180_000, false),
      tier('system', ['tests/system/**/*.test.ts'], 120_000, false),
      tier('e2e', ['tests/e2e/**/*.test.ts'], 120_000, false),
    ],
  },
});
