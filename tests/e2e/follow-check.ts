import type { Page } from 'playwright-core';
import { expect } from 'vitest';

/** Presses what an outlet check puts first, as soon as it does, until there is a judgement. */
export async function followCheck(page: Page, timeout = 120_000): Promise<void> {
  const judged = page.locator('section.verdict h1');
  const first = page.locator('.choices-now button.main');
  await expect
    .poll(
      async () => {
        if (await judged.isVisible()) return true;
        // The step may move on by itself between the look and the press.
        if (await first.isVisible()) await first.click({ timeout: 1_000 }).catch(() => {});
        return false;
      },
      { timeout, interval: 300 },
    )
    .toBe(true);
}
