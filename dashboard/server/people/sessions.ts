import { createHash, randomBytes } from 'node:crypto';
import type { FastifyReply } from 'fastify';
import { limits } from '../limits.ts';
import type { Store } from '../store/store.ts';

/** Says that the device was let in. */
export const doorCookie = 'stiffline';
/** Says who is signed in on it. */
export const personCookie = 'stiffline-person';

/** The store holds what this gives: it opens nothing. The token is random, so one round does. */
export const tokenHash = (token: string): string =>
  createHash('sha256').update(token).digest('base64url');

/** Begins a session, for a device (person null) or a person, and puts its cookie on the answer. */
export function beginSession(
  store: Store,
  reply: FastifyReply,
  person: number | null,
  nowMs: number,
): void {
  const token = randomBytes(24).toString('base64url');
  const lastsMs = person === null ? limits.doorDays * 86_400_000 : limits.signedInHours * 3_600_000;
  const session = { hash: tokenHash(token), person, endsMs: nowMs + lastsMs };
  store.together(() => store.people.begin(session, nowMs, limits.sessions));
  reply.setCookie(person === null ? doorCookie : personCookie, token, {
    ...{ path: '/', httpOnly: true, sameSite: 'strict' },
    maxAge: lastsMs / 1_000,
  });
}

export function endSession(store: Store, reply: FastifyReply, token: string | undefined): void {
  if (token !== undefined) store.people.end(tokenHash(token));
  reply.clearCookie(personCookie, { path: '/', httpOnly: true, sameSite: 'strict' });
}
