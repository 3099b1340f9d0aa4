import { afterAll, describe, expect, test } from 'vitest';
import { type Case, faults, healthy, nameOf } from '../confusion/cases.ts';
import { judgeScenario } from '../confusion/judge-scenario.ts';
import { Table } from '../confusion/table.ts';

/**
 * Every fault of the scenarios against the rule that must find it, and the healthy ones against
 * all. STIFFLINE_CONFUSION_SEEDS sets how many seeds a scenario has, STIFFLINE_CONFUSION_FROM the
 * first of them, STIFFLINE_CONFUSION_LONG how many a record of ten minutes has: the ordinary run
 * keeps to its two minutes. STIFFLINE_DRAW=1 puts the table into DEVELOPERS.md.
 */
const seeds = Number(process.env.STIFFLINE_CONFUSION_SEEDS ?? 10);
const from = Number(process.env.STIFFLINE_CONFUSION_FROM ?? 1);
const longSeeds = Number(process.env.STIFFLINE_CONFUSION_LONG ?? Math.min(seeds, 2));
/** Of each fault at least this share must be found; of the healthy less than this may alarm. */
const leastFound = 0.99;
const mostAlarms = 0.005;
const longSeconds = 100;
/** Ten seconds a seed are ten times what one takes on an idle core; a long record takes more. */
const timeoutOf = ({ seconds }: Case): number =>
  Math.max(180_000, seeds * (seconds > longSeconds ? 60_000 : 10_000));

const table = new Table();
afterAll(() => {
  table.write();
  process.stdout.write(`\n${table.drawn()}\n`);
});

/** Seeds that were judged wrongly, each with the command that shows it again. */
function wrong(each: Case, isHealthy: boolean): string[] {
  const { scenario, bay, seconds } = each;
  const row = table.row(each, isHealthy);
  const missed: string[] = [];
  const many = seconds > longSeconds ? longSeeds : seeds;
  for (let seed = from; seed < from + many; seed++) {
    const { judgement } = judgeScenario(scenario, seed, seconds, bay);
    const right = each.found(judgement);
    table.add(row, judgement, right);
    if (!right)
      missed.push(
        `STIFFLINE_CONFUSION_FROM=${seed} STIFFLINE_CONFUSION_SEEDS=1 ` +
          `npx vitest run tests/simulation/confusion -t "${nameOf(each)}"`,
      );
  }
  return missed;
}

const named = (cases: readonly Case[]) => cases.map((each) => ({ name: nameOf(each), each }));

describe('faults are found by the rule that is there for them', () => {
  for (const { name, each } of named(faults))
    test(
      name,
      () => {
        const missed = wrong(each, false);
        const most = (1 - leastFound) * seeds;
        expect(missed.length, `again by:\n${missed.join('\n')}`).toBeLessThanOrEqual(most);
      },
      timeoutOf(each),
    );
});

describe('the healthy shop raises no alarm', () => {
  for (const { name, each } of named(healthy))
    test(
      name,
      () => {
        const alarmed = wrong(each, true);
        const most = mostAlarms * seeds;
        expect(alarmed.length, `again by:\n${alarmed.join('\n')}`).toBeLessThanOrEqual(most);
      },
      timeoutOf(each),
    );

  test('nor does all of it together', () => {
    const { runs, alarms } = table.alarms();
    if (runs > 0) expect(alarms / runs).toBeLessThan(mostAlarms);
  });
});
