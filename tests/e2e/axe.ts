import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Page } from 'playwright-core';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

interface AxeResult {
  passes: unknown[];
  violations: { id: string; nodes: { target: string[]; failureSummary?: string }[] }[];
}
interface Axe {
  run(of: unknown, how: unknown): Promise<AxeResult>;
}

/**
 * What axe-core finds against WCAG 2.2 AA on a page: one line a place; empty when clean. Every rule
 * is run on every element; the places are worked out and brought here for what is violated alone,
 * as those of all that passes take longer than the rules. A page is given the half megabyte of
 * axe-core once, at whatever sizes and colours it is then looked at.
 */
export async function axeFaults(page: Page): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in globalThis))) await page.evaluate(source);
  const { passed, violations } = await page.evaluate(async (runOnly) => {
    const { axe } = globalThis as unknown as { axe: Axe };
    const { passes, violations } = await axe.run(document, {
      runOnly,
      resultTypes: ['violations'],
    });
    return { passed: passes.length, violations };
  }, tags);
  if (passed === 0) return ['axe-core checked nothing'];
  return violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.target.join(' ')} ${node.failureSummary ?? ''}`),
  );
}
