import { randomInt, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import type { Person, Role } from '../../../shared/protocol/http-people.ts';
import { isEnough } from '../people/rights.ts';
import { doorCookie, personCookie, tokenHash } from '../people/sessions.ts';
import type { Who } from '../people/who.ts';
import type { PeopleStore, PersonRecord } from '../store/people-store.ts';
import { ProblemError } from './problems.ts';

const loopbackNames = new Set(['localhost', '127.0.0.1', '[::1]', '::1']);

export const isLoopback = (address: string): boolean =>
  address === '::1' || address === 'localhost' || /^(::ffff:)?127\./.test(address);

/**
 * Who may ask. This machine itself needs nothing; another device shows the code that was printed
 * at start, once, and has a cookie from then on: it may look, and as long as nobody is named here
 * it may do all. Then what is done needs a person signed in, whose role is enough. Other web sites
 * may not speak through a browser.
 */
export class Access {
  /** Null where only this machine is listened to. */
  readonly code: string | null;
  readonly #clock: () => number;

  constructor(needsCode: boolean, clock: () => number = Date.now) {
    const digits = () => String(randomInt(10_000)).padStart(4, '0');
    this.code = needsCode ? `${digits()}-${digits()}` : null;
    this.#clock = clock;
  }

  /** @throws ProblemError when the host name is not ours: a foreign name led a browser here. */
  checkHost(request: FastifyRequest): void {
    const name = request.hostname;
    if (loopbackNames.has(name) || name === literal(request.socket.localAddress)) return;
    if (!isLoopback(request.ip)) return;
    throw new ProblemError('wrong-host', `"${name}" is no name of this machine`);
  }

  /** @throws ProblemError when the page that asks came from elsewhere. No page, no origin. */
  checkOrigin(request: FastifyRequest): void {
    const { origin } = request.headers;
    if (origin === undefined) return;
    if (URL.canParse(origin) && new URL(origin).host === request.host) return;
    throw new ProblemError('wrong-origin', `the page of ${origin} may not ask ${request.host}`);
  }

  /** @throws ProblemError when another device has not shown the code. */
  checkDoor(request: FastifyRequest, people: PeopleStore): void {
    if (this.code === null || isLoopback(request.ip)) return;
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
    const own = isLoopback(request.ip);
    const device = own ? null : request.ip;
    const session = this.#session(request, personCookie, people);
    const record = session && session.person !== null ? people.one(session.person) : null;
    if (session && record && !record.disabled)
      return { person: publicly(record), untilMs: session.endsMs, role: record.role, device };
    const mayAll = own || people.list().length === 0;
    return { person: null, untilMs: null, role: mayAll ? 'lead' : 'watch', device };
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

const literal = (address = '') =>
  address.startsWith('::ffff:')
    ? address.slice(7)
    : address.includes(':')
      ? `[${address}]`
      : address;
