import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { rules } from '../../shared/rules/judge.ts';

const path = fileURLToPath(new URL('../../README.md', import.meta.url));
const block = /(<!-- rules: [^>]*-->\n)[\s\S]*?(<!-- \/rules -->)/;

const sources = (rule: (typeof rules)[number]) =>
  [...new Set(rule.limits.map((limit) => limit.source))].join('; ');

function drawn(): string {
  const lines = rules.map(
    (rule) => `| ${rule.id} | ${rule.asks} | ${rule.required} | ${sources(rule)} |`,
  );
  return ['| rule | asks | holds the verdict | source |', '|---|---|---|---|', ...lines].join('\n');
}

test('the table of rules in the README is drawn from the code', () => {
  const readme = readFileSync(path, 'utf8');
  const fresh = readme.replace(block, (_all, opens, closes) => `${opens}${drawn()}\n${closes}`);
  // `STIFFLINE_DRAW=1 npx vitest run tests/rules/readme.test.ts` draws it anew.
  if (process.env.STIFFLINE_DRAW) writeFileSync(path, fresh);
  expect(readFileSync(path, 'utf8')).toBe(fresh);
});

test('every limit has a source', () => {
  for (const rule of rules)
    for (const limit of rule.limits) expect(limit.source, rule.id).toMatch(/\w{4}/);
});
