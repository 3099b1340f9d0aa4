import { existsSync, mkdirSync } from 'node:fs';
import { type Browser, chromium, type Page } from 'playwright-core';

const path = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);

/** Debian's Chromium, kept quiet: it must not look for hosts that a closed network has not got. */
export async function launchChromium(): Promise<Browser> {
  if (!path) throw new Error('Chromium is missing: apt-get install chromium');
  // Where the pictures to look at go.
  mkdirSync('tests/.out', { recursive: true });
  return chromium.launch({
    executablePath: path,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}

/** The two sizes that every screen is looked at in. */
export const sizes = {
  phone: { width: 390, height: 844 },
  desk: { width: 1440, height: 900 },
} as const;

/** Pixels that a page is wider than its window: none where it flows. */
export const overflow = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
