import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import { Problem } from '../../../shared/protocol/http.ts';
import { ChangedPerson, NewPerson, Person } from '../../../shared/protocol/http-people.ts';
import { say } from '../../../shared/rules/say.ts';
import { publicly } from '../http/access.ts';
import { ProblemError } from '../http/problems.ts';
import { idPath } from '../http/routes.ts';
import { limits } from '../limits.ts';
import type { PersonRecord } from '../store/people-store.ts';
import type { Store } from '../store/store.ts';
import { audited } from './audited.ts';
import { differences } from './differences.ts';
import { hashPin } from './pins.ts';
import { checkNames } from './signature.ts';

/** People: added and changed by leads. */
export const peopleRoutes = (store: Store): FastifyPluginAsyncTypebox =>
  async function peopleHere(app) {
    const { people } = store;
    const tags = ['people'];
    app.get('/people', { schema: { response: { 200: Type.Array(Person) }, tags } }, ({ who }) =>
      people
        .list()
        .filter(({ disabled }) => !disabled || who.role === 'lead')
        .map(publicly),
    );
    app.post(
      '/people',
      { schema: { body: NewPerson, response: { 201: Person, 400: Problem, 409: Problem }, tags } },
      async (request, reply) => {
        const { name, role, pin } = request.body;
        const hashed = await hashPin(pin);
        const added = audited(store, request, (note) => {
          const all = people.list();
          checkName(all, name, null);
          if (all.length === 0 && role !== 'lead')
            throw new ProblemError('last-lead', 'the first person must be a lead');
          if (all.length >= limits.people)
            throw new ProblemError('full', `there are ${limits.people} people already`);
          const made = publicly(people.add({ name, role, pin: hashed }));
          const said = say('personAdded', { name, role });
          note({
            area: 'people',
            subject: `person ${made.id}`,
            ...said,
            before: null,
            after: made,
          });
          return made;
        });
        reply.code(201);
        return added;
      },
    );
    app.put(
      '/people/:id',
      {
        schema: {
          ...{ params: idPath, body: ChangedPerson, tags },
          response: { 200: Person, 400: Problem, 404: Problem, 409: Problem },
        },
      },
      async (request) => {
        const { pin, ...change } = request.body;
        const { id } = request.params;
        const hashed = pin === undefined ? null : await hashPin(pin);
        return audited(store, request, (note) => {
          const before = people.one(id);
          if (!before) throw new ProblemError('not-found', `there is no person ${id}`);
          const forgiven = hashed === null ? {} : { pin: hashed, wrong: 0, lockedUntilMs: 0 };
          const after: PersonRecord = { ...before, ...change, ...forgiven };
          checkName(people.list(), after.name, id);
          checkLead(people.list(), after);
          people.save(after);
          // A new PIN is given where the old one is known to another, or the device is lost.
          if (hashed !== null || after.disabled) people.endAllOf(id);
          const [was, is] = [publicly(before), publicly(after)];
          const changed = { ...differences(was, is), pin: hashed !== null };
          const said = say('personChanged', { name: before.name, ...changed });
          if (changed.places.length > 0 || changed.pin)
            note({ area: 'people', subject: `person ${id}`, ...said, before: was, after: is });
          return is;
        });
      },
    );
  };

/** Tiles tell people apart by their names alone. */
function checkName(all: readonly PersonRecord[], name: string, own: number | null): void {
  checkNames({ name });
  const alike = (one: PersonRecord) =>
    one.id !== own && !one.disabled && one.name.toLowerCase() === name.toLowerCase();
  if (all.some(alike)) throw new ProblemError('bad-request', `name "${name}" is taken already`);
}

function checkLead(all: readonly PersonRecord[], after: PersonRecord): void {
  const then = all.map((one) => (one.id === after.id ? after : one));
  if (!then.some(({ role, disabled }) => role === 'lead' && !disabled))
    throw new ProblemError('last-lead', 'make somebody else a lead first');
}
