import { randomInt, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { Person, Role } from '../../../shared/protocol/http-people.ts';
import { isEnough } from '../people/rights.ts';
import { doorCookie, personCookie, tokenHash } from '../people/sessions.ts';
import { nobodyAt, type Who } from '../people/who.ts';
import type { PeopleStore, PersonRecord } from '../store/people-store.ts';
import { ProblemError } from './problems.ts';
import { Proxies } from './proxies.ts';
import { cameFrom, hostName, hostOf, isFrom, isLoopback, isOwnName } from './this-machine.ts';

/**
 * Who may ask. This machine itself needs nothing; another device shows the code that was printed
 * at start, once, and has a cookie from then on: it may look, and as long as nobody is named here
 * it may do all, unless a proxy brings it. Then what is done needs a person signed in, whose role
 * is enough. Other web sites may not speak through a browser.
 */
export class Access {
  /** Null where only this machine is listened to, and nothing stands in front. */
  readonly code: string | null;
  readonly proxies: Proxies;
  readonly #clock: () => number;

  constructor(needsCode: boolean, clock: () => number = Date.now, proxies = new Proxies()) {
    const digits = () => String(randomInt(10_000)).padStart(4, '0');
    this.code = needsCode ? `${digits()}-${digits()}` : null;
    this.#clock = clock;
    this.proxies = proxies;
  }

  /** @throws ProblemError when the host name is not ours: a foreign name led a browser here. */
  checkHost(request: FastifyRequest): void {
    const name = hostName(request);
    if (isOwnName(request) || name === this.proxies.publicUrl?.hostname) return;
    // From elsewhere it gets no further than its cookies, which belong to the name that it used.
    if (!isLoopback(request.raw.socket.remoteAddress ?? '')) return;
    throw new ProblemError('wrong-host', `"${name}" is no name of this machine`);
  }

  /** @throws ProblemError when the page that asks came from elsewhere. No page, no origin. */
  checkOrigin(request: FastifyRequest): void {
    const { origin } = request.headers;
    if (origin === undefined) return;
    const host = hostOf(request);
    if (isFrom(origin, host) || origin === this.proxies.publicUrl?.origin) return;
    throw new ProblemError('wrong-origin', `the page of ${origin} may not ask ${host}`);
  }

  /** @throws ProblemError when another device has not shown the code. */
  checkDoor(request: FastifyRequest, people: PeopleStore): void {
    if (cameFrom(request, this.proxies).device === null) return;
    if (this.code === null)
      throw new ProblemError('access-code-needed', 'a proxy needs --trusted-proxy at the start');
    if (this.#session(request, doorCookie, people)?.person === null) return;
    throw new ProblemError('access-code-needed', 'the code is on the screen where it was started');
  }

  /** @throws ProblemError for who does not know the code. */
  checkCode(code: string): void {
    const given = Buffer.from(code.replace(/\D/g, '').padEnd(8).slice(0, 8));
    const wanted = Buffer.from((this.code ?? '').replace(/\D/g, '').padEnd(8));
    if (this.code === null || !timingSafeEqual(given, wanted))
      throw new ProblemError('access-code-wrong', 'eight digits are needed, as they were printed');
  }

  who(request: FastifyRequest, people: PeopleStore): Who {
    const from = cameFrom(request, this.proxies);
    const session = this.#session(request, personCookie, people);
    const record = session && session.person !== null ? people.one(session.person) : null;
    if (session && record && !record.disabled)
      return { person: publicly(record), untilMs: session.endsMs, role: record.role, ...from };
    return nobodyAt(from, people.list().length > 0);
  }

  /** @throws ProblemError when who asks may not do what needs that role. */
  checkRole(who: Who, needed: Role): void {
    if (isEnough(who.role, needed)) return;
    if (!who.person)
      throw new ProblemError('not-signed-in', `this is for people who may ${needed}`);
    const { name, role } = who.person;
    throw new ProblemError('not-allowed', `${name} may ${role}; this is for who may ${needed}`);
  }

  #session(request: FastifyRequest, cookie: string, people: PeopleStore) {
    const token = request.cookies[cookie];
    return token === undefined ? null : people.session(tokenHash(token), this.#clock());
  }
}

export const publicly = ({ id, name, role, disabled }: PersonRecord): Person => ({
  ...{ id, name, role, disabled },
});
