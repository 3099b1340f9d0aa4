import type { FastifyRequest } from 'fastify';
import type { AuditArea } from '../../../shared/protocol/http-people.ts';
import type { Said } from '../../../shared/rules/say.ts';
import type { Store } from '../store/store.ts';

/** What was changed; who did it, when and from where is known from the request. */
export interface Note extends Said {
  area: AuditArea;
  /** Which one, short: `plate 3`. */
  subject: string;
  /** As JSON; null where there was nothing, or nothing is left. */
  before: unknown;
  after: unknown;
}

/**
 * Makes a change and writes it into the audit list: both are on disk, or neither. Every route that
 * changes something does it in here; what only speaks to memory (the floor, the feed) comes after.
 *
 *   audited(store, request, (note) => {
 *     const made = store.plates.add(plate, stamp);
 *     note({ area: 'plates', subject: `plate ${made.id}`, ...said, before: null, after: plate });
 *     return made;
 *   });
 */
export function audited<Result>(
  store: Store,
  request: Pick<FastifyRequest, 'who'>,
  work: (note: (of: Note) => void) => Result,
): Result {
  const { person, device } = request.who;
  const by = person && { id: person.id, name: person.name };
  return store.together(() =>
    work((note) => {
      store.audit.add({ atUs: Date.now() * 1_000, person: by, device, ...note });
    }),
  );
}
