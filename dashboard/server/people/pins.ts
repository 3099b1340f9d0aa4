import { randomBytes, type ScryptOptions, scrypt, timingSafeEqual } from 'node:crypto';

/**
 * About 0.1 s and 32 MB a try. Digits are few: this slows who got hold of the store, it does not
 * stop him; at the door it is the wait after wrong ones that does (`limits.pinWaitsS`).
 */
const cost = { N: 2 ** 15, r: 8, p: 1, maxmem: 64 * 2 ** 20 } as const;
const saltBytes = 16;
const keyBytes = 32;

/** `scrypt`, cost, salt and key: all that a later check needs, whatever the cost is by then. */
export async function hashPin(pin: string): Promise<string> {
  const salt = randomBytes(saltBytes);
  const key = await derived(pin, salt, cost);
  return ['scrypt', cost.N, cost.r, cost.p, ...[salt, key].map(text)].join(':');
}

export async function isPin(pin: string, stored: string): Promise<boolean> {
  const [, N, r, p, salt = '', key = ''] = stored.split(':');
  const of = { N: Number(N), r: Number(r), p: Number(p), maxmem: cost.maxmem };
  const wanted = Buffer.from(key, 'base64url');
  return timingSafeEqual(await derived(pin, Buffer.from(salt, 'base64url'), of), wanted);
}

const text = (bytes: Buffer) => bytes.toString('base64url');

const derived = (pin: string, salt: Buffer, of: ScryptOptions): Promise<Buffer> =>
  new Promise((resolve, reject) =>
    scrypt(pin, salt, keyBytes, of, (error, key) => (error ? reject(error) : resolve(key))),
  );
