import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, test } from 'vitest';
import { rulesOf } from './drawn-cases.ts';
import { again, type Drawn, judgeDrawn, python } from './drawn-supplies.ts';

/**
 * Supplies that nobody's simulator plays: numpy draws them from circuit equations with their truth
 * (drawn_supplies.py), and no verdict may be false. STIFFLINE_DRAWN sets how many are drawn (of all
 * classes in turn), STIFFLINE_DRAWN_SEED from which seed; STIFFLINE_DRAWN_CLASS and
 * STIFFLINE_DRAWN_ONLY judge one class, or one record of it, again.
 */
const hasNumpy = (() => {
  try {
    execFileSync(python, ['-c', 'import numpy']);
    return existsSync(python);
  } catch {
    return false;
  }
})();

const { STIFFLINE_DRAWN: many, STIFFLINE_DRAWN_SEED: asked } = process.env;
const { STIFFLINE_DRAWN_CLASS: only, STIFFLINE_DRAWN_ONLY: draw } = process.env;
const seed = Number(asked ?? 1);
const count = draw === undefined ? Number(many ?? 204) : Number(draw) + 1;

interface Row {
  drawn: number;
  wrong: string[];
  found: number;
  verdicts: Map<string, number>;
}

const rows = new Map<string, Row>();

function add({ head, judgement, wrong }: Drawn): void {
  const row: Row = rows.get(head.class) ?? { drawn: 0, wrong: [], found: 0, verdicts: new Map() };
  rows.set(head.class, row);
  row.drawn += 1;
  row.verdicts.set(judgement.verdict, (row.verdicts.get(judgement.verdict) ?? 0) + 1);
  if (wrong) row.wrong.push(`${judgement.verdict}, ${head.why}: ${again(head)}`);
  const rules: readonly string[] = rulesOf[head.class] ?? [];
  const spoke = judgement.findings.some(
    (each) => rules.includes(each.rule) && each.verdict !== 'adequate',
  );
  if (rules.length === 0 ? !head.never.includes(judgement.verdict) : spoke) row.found += 1;
}

const share = (part: number, of: number) => `${Math.floor((1000 * part) / of) / 10} %`;

function table(): string {
  const lines = [...rows].map(([name, { drawn, wrong, found, verdicts }]) => {
    const gave = [...verdicts].sort(([, a], [, b]) => b - a);
    const words = gave.map(([verdict, times]) => `${verdict} ${share(times, drawn)}`).join(', ');
    const rules = rulesOf[name]?.join(' or ') ?? 'none';
    const cells = [name, rules, drawn, share(found, drawn), wrong.length, words];
    return `| ${cells.join(' | ')} |`;
  });
  const head = '| class | its rule | drawn | found | false | verdicts |\n|---|---|---|---|---|---|';
  return `${head}\n${lines.join('\n')}\n`;
}

const sum = (pick: (row: Row) => number, weak: boolean) =>
  [...rows].reduce((all, [name, row]) => all + (name in rulesOf === weak ? pick(row) : 0), 0);

describe.skipIf(!hasNumpy)('supplies drawn by numpy (skipped without it)', () => {
  afterAll(() => {
    mkdirSync('tests/.out', { recursive: true });
    writeFileSync('tests/.out/drawn.md', table());
    process.stdout.write(`\n${table()}\n`);
  });

  test(
    'no weak supply is adequate, no healthy one is underpowered',
    async () => {
      for await (const each of judgeDrawn(seed, count, only === undefined ? [] : [only]))
        if (draw === undefined || each.head.draw === Number(draw)) add(each);
      const wrong = [...rows.values()].flatMap((row) => row.wrong);
      const falseGood = [...rows]
        .filter(([name]) => name in rulesOf)
        .flatMap(([, row]) => row.wrong);
      expect(falseGood, `again by:\n${falseGood.join('\n')}`).toHaveLength(0);
      // Alarms over healthy supplies: fewer than one in two hundred.
      const alarms = sum((row) => row.wrong.length, false);
      const healthy = sum((row) => row.drawn, false);
      expect(alarms, `again by:\n${wrong.join('\n')}`).toBeLessThanOrEqual(0.005 * healthy);
    },
    Math.max(300_000, count * 2000),
  );

  test.skipIf(draw !== undefined)('each fault is told by a rule that is there for it', () => {
    const found = sum((row) => row.found, true);
    const drawn = sum((row) => row.drawn, true);
    expect(drawn).toBeGreaterThan(0);
    expect(found / drawn, table()).toBeGreaterThanOrEqual(0.99);
  });
});
