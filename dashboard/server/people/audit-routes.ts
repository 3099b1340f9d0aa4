import { Readable } from 'node:stream';
import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { type Static, type TSchema, Type } from 'typebox';
import { Id, Time } from '../../../shared/protocol/http.ts';
import { AuditArea, type AuditEntry, AuditPage } from '../../../shared/protocol/http-people.ts';
import { csvLine } from '../http/csv.ts';
import { paged } from '../http/paged.ts';
import { ProblemError } from '../http/problems.ts';
import { limits } from '../limits.ts';
import type { AuditQuery, AuditRecord } from '../store/people-store.ts';
import type { Store } from '../store/store.ts';

const filters = {
  area: Type.Optional(AuditArea),
  person: Type.Optional(Id),
  from: Type.Optional(Time),
  to: Type.Optional(Time),
};
const Filters = Type.Object(filters);
const Paged = Type.Object({
  ...filters,
  before: Type.Optional(Id),
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.auditPage })),
});

const csvFile = {
  200: {
    description: 'A file',
    content: { 'text/csv; charset=utf-8': { schema: Type.String() as TSchema } },
  },
};

/** Who changed what, newest first. Nothing here writes: that is done with each change. */
export const auditRoutes = ({ audit }: Store): FastifyPluginAsyncTypebox =>
  async function auditList(app) {
    const tags = ['people'];
    app.get(
      '/audit',
      { schema: { querystring: Paged, response: { 200: AuditPage }, tags } },
      ({ query: { before, limit = 50, ...asked } }) => {
        const { page, next } = paged(
          limit,
          (most) => audit.list({ ...wanted(asked), before, limit: most }),
          ({ id }) => id,
        );
        return { entries: page.map(told), next };
      },
    );
    app.get(
      '/audit.csv',
      { schema: { querystring: Filters, response: csvFile, tags } },
      ({ query }, reply) =>
        reply
          .type('text/csv; charset=utf-8')
          .header('content-disposition', 'attachment; filename="changes.csv"')
          .send(Readable.from(lines(audit, wanted(query)))),
    );
  };

function wanted({ area, person, from, to }: Static<typeof Filters>): Omit<AuditQuery, 'limit'> {
  const [fromUs, toUs] = [from, to].map((time) => time && Date.parse(time) * 1_000);
  if (Number.isNaN(fromUs) || Number.isNaN(toUs))
    throw new ProblemError('bad-request', '"from" and "to" are times');
  return { area, person, fromUs: fromUs || undefined, toUs: toUs || undefined } as AuditQuery;
}

const told = ({ atUs, ...entry }: AuditRecord): AuditEntry => ({
  ...entry,
  at: new Date(atUs / 1_000).toISOString(),
});

/** The whole list, a page at a time: it may be longer than memory. */
function* lines(audit: Store['audit'], query: Omit<AuditQuery, 'limit'>): Generator<string> {
  yield csvLine(['id', 'at', 'person', 'device', 'area', 'subject', 'says', 'before', 'after']);
  for (let before: number | undefined; ; ) {
    const page = audit.list({ ...query, before, limit: limits.auditPage });
    yield page.map((entry) => line(told(entry))).join('');
    if (page.length < limits.auditPage) return;
    before = page.at(-1)!.id;
  }
}

function line({ id, at, person, device, area, subject, says, before, after }: AuditEntry): string {
  return csvLine([
    ...[id, at, person?.name, device ?? 'this machine', area, subject, says],
    ...[before, after].map((value) => (value === null ? null : JSON.stringify(value))),
  ]);
}
