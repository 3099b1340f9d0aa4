import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Tests that hold a program to seconds of the wall clock. They run by themselves, after all others:
 * beside another file on two cores they would measure that one, too.
 */
const keepsTime = [
  'tests/system/run.test.ts',
  'tests/e2e/floor.test.ts',
  'tests/e2e/recovery.test.ts',
];

/** Longest first: a file of a minute that begins last would keep one core waiting for the other. */
const longest = ['simulation/confusion', 'simulation/truth', 'e2e/views', 'e2e/check', 'e2e/ends'];

class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const rank = ({ moduleId }: TestSpecification) => {
      const at = longest.findIndex((name) => moduleId.endsWith(`/tests/${name}.test.ts`));
      return at < 0 ? longest.length : at;
    };
    return (await super.sort(files)).sort((one, other) => rank(one) - rank(other));
  }
}

/** A tier of patient tests, which wait for things and never ask how long they took. */
const slow = (name: string, groupOrder: number, folders = name) => ({
  test: {
    name,
    include: [`tests/${folders}/**/*.test.ts`],
    exclude: keepsTime,
    testTimeout: 180_000,
    hookTimeout: 180_000,
    maxWorkers: 2,
    // The default of a second is no promise of anything, and a loaded machine needs more.
    expect: { poll: { timeout: 20_000, interval: 100 } },
    sequence: { groupOrder },
  },
});

/** What of a tier keeps time: one file after another, with nothing beside it. */
const alone = (name: string, groupOrder: number) => {
  const { test } = slow(name, groupOrder);
  const include = keepsTime.filter((file) => file.startsWith(`tests/${name}/`));
  return { test: { ...test, name: `${name}-alone`, include, exclude: [], maxWorkers: 1 } };
};

/**
 * Tiers by patience. `unit` is pure and fast; `reference` asks tools nobody here wrote;
 * `simulation` runs the whole system on a virtual clock; `system` starts real programs; `e2e`
 * drives Chromium. Two files run beside each other, but for those that keep time.
 */
export default defineConfig({
  test: {
    reporters: ['default', ['json', { outputFile: 'tests/.out/report.json' }]],
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        test: {
          name: 'unit',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/{reference,simulation,system,attack,e2e}/**'],
          testTimeout: 20_000,
          maxWorkers: 2,
          // Collections are counted in some tests: a young space that grows by itself would make
          // the count depend on what ran before.
          execArgv: ['--min-semi-space-size=16', '--max-semi-space-size=16'],
          sequence: { groupOrder: 0 },
        },
      },
      slow('reference', 1),
      slow('simulation', 1),
      // Attacks are on whole programs, too.
      slow('system', 2, '{system,attack}'),
      slow('e2e', 2),
      alone('system', 3),
      alone('e2e', 3),
    ],
  },
});
