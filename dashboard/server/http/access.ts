import { randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import { ProblemError } from './problems.ts';

export const sessionCookie = 'stiffline';
/** Devices let in during one start of the server; the oldest goes. */
const mostSessions = 512;
const loopbackNames = new Set(['localhost', '127.0.0.1', '[::1]', '::1']);

export const isLoopback = (address: string): boolean =>
  address === '::1' || address === 'localhost' || /^(::ffff:)?127\./.test(address);

/**
 * Who may ask. This machine itself needs nothing; another device shows the code that was printed
 * at start, once, and has a cookie from then on. Other web sites may not speak through a browser.
 */
export class Access {
  /** Null where only this machine is listened to. */
  readonly code: string | null;
  readonly #sessions = new Set<string>();

  constructor(needsCode: boolean) {
    const digits = () => String(randomInt(10_000)).padStart(4, '0');
    this.code = needsCode ? `${digits()}-${digits()}` : null;
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
  checkSession(request: FastifyRequest): void {
    if (this.code === null || isLoopback(request.ip)) return;
    const session = request.cookies[sessionCookie];
    if (session !== undefined && this.#sessions.has(session)) return;
    throw new ProblemError('access-code-needed', 'the code is on the screen where it was started');
  }

  /** A new session for who knows the code. @throws ProblemError for who does not. */
  enter(code: string): string {
    const given = Buffer.from(code.replace(/\D/g, '').padEnd(8).slice(0, 8));
    const wanted = Buffer.from((this.code ?? '').replace(/\D/g, '').padEnd(8));
    if (this.code === null || !timingSafeEqual(given, wanted))
      throw new ProblemError('access-code-wrong', 'eight digits are needed, as they were printed');
    const session = randomBytes(24).toString('base64url');
    this.#sessions.add(session);
    if (this.#sessions.size > mostSessions) this.#sessions.delete([...this.#sessions][0]!);
    return session;
  }
}

const literal = (address = '') =>
  address.startsWith('::ffff:')
    ? address.slice(7)
    : address.includes(':')
      ? `[${address}]`
      : address;
