import { isIP } from 'node:net';
import type { Flag } from './flags.ts';

const port = (says: string, value: number) =>
  ({
    kind: 'number',
    says: `${says}; 0: any free`,
    value,
    min: 0,
    max: 65_535,
    whole: true,
  }) as const;

/** What every verb that listens or keeps says alike. */
export const httpPort = port('port of the page', 8080) satisfies Flag;
export const mqttPort = port('port for sensors', 1883) satisfies Flag;
export const host = { kind: 'text', says: 'address to listen on', value: '127.0.0.1' } as const;
export const trustedProxy = {
  kind: 'list',
  says: 'address or range of a proxy in front; again, or with commas, for more',
  is: isAddressOrRange,
  needs: 'an address (127.0.0.1, ::1) or a range (10.0.0.0/8)',
} as const satisfies Flag;
export const publicUrl = {
  kind: 'text',
  says: 'where people open the page, through a proxy',
  is: isRootUrl,
  needs: 'an http or https URL without a path (https://shop.example)',
} as const satisfies Flag;
export const data = { kind: 'text', says: 'folder of all that is kept', value: 'data' } as const;

/** A range of everything is none: whoever asks would be believed. */
function isAddressOrRange(text: string): boolean {
  const [address = '', bits, ...more] = text.split('/');
  const family = address.includes('%') ? 0 : isIP(address);
  if (family === 0 || more.length > 0) return false;
  if (bits === undefined) return true;
  return /^[1-9]\d{0,2}$/.test(bits) && Number(bits) <= (family === 6 ? 128 : 32);
}

/** The page asks by absolute paths, so that it cannot be put under one. */
function isRootUrl(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const { protocol, username, password, pathname, search, hash } = new URL(text);
  const bare = [username, password, search, hash].every((part) => part === '');
  return /^https?:$/.test(protocol) && pathname === '/' && bare;
}

/** Ends when the verb is told to stop. */
export const untilStopped = (signal: AbortSignal): Promise<void> =>
  new Promise((resolve) => {
    if (signal.aborted) resolve();
    signal.addEventListener('abort', () => resolve());
  });
