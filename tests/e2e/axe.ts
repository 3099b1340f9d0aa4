import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

interface AxeResult {
  passes: unknown[];
  violations: { id: string; nodes: { target: string[]; failureSummary?: string }[] }[];
}

/** What axe-core finds against WCAG 2.2 AA on a page: one line a place; empty when clean. */
export async function axeFaults(page: Page): Promise<string[]> {
  await page.evaluate(source);
  const result = await page.evaluate(
    (runOnly) =>
      (globalThis as unknown as { axe: { run(of: unknown, how: unknown): unknown } }).axe.run(
        document,
        { runOnly },
      ) as Promise<AxeResult>,
    tags,
  );
  if (result.passes.length === 0) return ['axe-core checked nothing'];
  return result.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.target.join(' ')} ${node.failureSummary ?? ''}`),
  );
}
