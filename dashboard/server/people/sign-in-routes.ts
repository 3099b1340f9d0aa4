import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { Problem } from '../../../shared/protocol/http.ts';
import { Me, SignIn } from '../../../shared/protocol/http-people.ts';
import { say } from '../../../shared/rules/say.ts';
import { publicly } from '../http/access.ts';
import { ProblemError } from '../http/problems.ts';
import { limits } from '../limits.ts';
import type { PersonRecord } from '../store/people-store.ts';
import type { Store } from '../store/store.ts';
import { audited } from './audited.ts';
import { isPin } from './pins.ts';
import { beginSession, endSession, personCookie } from './sessions.ts';
import { nobodyAt, type Who } from './who.ts';

/** Who is here: a person signs in on a device by name and PIN, and out again. */
export const signInRoutes = (
  store: Store,
  clock: () => number = Date.now,
): FastifyPluginAsyncTypebox =>
  async function signIn(app) {
    const tags = ['people'];
    app.get('/me', { schema: { response: { 200: Me }, tags } }, ({ who }) => me(store, who));
    app.post(
      '/me',
      {
        config: { rateLimit: { max: 30, timeWindow: 60_000 } },
        schema: { body: SignIn, response: { 200: Me, 403: Problem, 429: Problem }, tags },
      },
      async (request, reply) => {
        const { person: id, pin } = request.body;
        const person = await proven(store, request, reply, { id, pin, nowMs: clock() });
        const { device, proxied } = request.who;
        endSession(store, reply, request.cookies[personCookie]);
        beginSession(store, reply, person.id, clock());
        const untilMs = clock() + limits.signedInHours * 3_600_000;
        const { role } = person;
        return me(store, { person: publicly(person), untilMs, role, device, proxied });
      },
    );
    app.delete('/me', { schema: { response: { 200: Me }, tags } }, (request, reply) => {
      const { person } = request.who;
      if (person)
        audited(store, request, (note) => {
          const said = say('signedOut', { name: person.name });
          note({
            area: 'sign-in',
            subject: `person ${person.id}`,
            ...said,
            before: null,
            after: null,
          });
        });
      endSession(store, reply, request.cookies[personCookie]);
      return me(store, nobodyAt(request.who, store.people.list().length > 0));
    });
  };

function me(store: Store, { person, untilMs, role, device }: Who): Me {
  const until = untilMs === null ? null : new Date(untilMs).toISOString();
  return { person, role, until, own: device === null, people: store.people.list().length > 0 };
}

interface Try {
  id: number;
  pin: string;
  nowMs: number;
}

/**
 * The person whose PIN it is. Each try is counted before it is checked, so that tries at the same
 * moment do not slip past the wait.
 * @throws ProblemError where it is not, or too soon after wrong ones.
 */
async function proven(
  store: Store,
  request: FastifyRequest,
  reply: FastifyReply,
  { id, pin, nowMs }: Try,
): Promise<PersonRecord> {
  const { people } = store;
  const person = people.one(id);
  if (!person || person.disabled) throw new ProblemError('pin-wrong', 'there is no such person');
  if (nowMs < person.lockedUntilMs) {
    const waitS = Math.ceil((person.lockedUntilMs - nowMs) / 1_000);
    reply.header('retry-after', waitS);
    throw new ProblemError('pin-locked', `after wrong PINs, try again in ${waitS} s`);
  }
  const wrong = person.wrong + 1;
  const waitS = limits.pinWaitsS[Math.min(wrong, limits.pinWaitsS.length - 1)]!;
  people.save({ ...person, wrong, lockedUntilMs: nowMs + waitS * 1_000 });
  const right = await isPin(pin, person.pin);
  const subject = `person ${id}`;
  const note = { area: 'sign-in', subject, before: null, after: null } as const;
  if (!right) {
    const said = say('wrongPins', { name: person.name, wrong, waitS });
    if (waitS > 0) audited(store, request, (write) => write({ ...note, ...said }));
    if (waitS > 0) reply.header('retry-after', waitS);
    throw new ProblemError('pin-wrong', waitS > 0 ? `try again in ${waitS} s` : 'try again');
  }
  // Changed by a lead while the PIN was worked on.
  const now = people.one(id);
  if (!now || now.disabled || now.pin !== person.pin)
    throw new ProblemError('pin-wrong', 'this person was changed just now; try again');
  const proved = { ...now, wrong: 0, lockedUntilMs: 0 };
  audited(store, request, (write) => {
    people.save(proved);
    write({ ...note, ...say('signedIn', { name: now.name }) });
  });
  return proved;
}
