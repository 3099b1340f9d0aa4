import { existsSync } from 'node:fs';
import { type Browser, chromium } from 'playwright-core';

const path = ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find(existsSync);

/** Debian's Chromium, kept quiet: it must not look for hosts that a closed network has not got. */
export async function launchChromium(): Promise<Browser> {
  if (!path) throw new Error('Chromium is missing: apt-get install chromium');
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
