import type { FastifyInstance } from 'fastify';
import { type TSchema, Type } from 'typebox';
import { Problem, Retirement } from '../../../shared/protocol/http.ts';
import type { Read } from '../../../shared/protocol/schema-faults.ts';
import { say } from '../../../shared/rules/say.ts';
import { limits } from '../limits.ts';
import { audited } from '../people/audited.ts';
import { differences } from '../people/differences.ts';
import { stampOf } from '../people/signature.ts';
import type { StockRecord, StockStore } from '../store/stock-store.ts';
import type { Store } from '../store/store.ts';
import { storedAs, versionOf } from '../store/stored.ts';
import { paged } from './paged.ts';
import { ProblemError } from './problems.ts';
import { idPath, must, readHere } from './routes.ts';

type Name = 'circuit' | 'plate' | 'feeder';

/** A kind of thing that the shop has, under `/<name>s`; each with every version that it had. */
export interface Kind<Value> {
  /** Also the key that the value has in the answers. */
  name: Name;
  stock: StockStore<Value>;
  most: number;
  schemas: { value: TSchema; stored: TSchema; versions: TSchema };
  read(body: unknown): Read<Value>;
  /** @throws ProblemError where it does not fit what else is in use; `id` is null of a new one. */
  checkFits?(value: Value, id: number | null): void;
  /** @throws ProblemError where something in use stands on it. */
  checkUnused?(id: number): void;
  /** As the audit list compares two of them, where the value itself says little to a reader. */
  told?(value: Value): unknown;
  /** A version was made: what goes by it is to be looked at anew. */
  onChange?(): void;
}

const tags = ['shop'];

/** List, add, change, retire, versions. */
export function versionedRoutes<Value extends { name: string }>(
  app: FastifyInstance,
  store: Store,
  kind: Kind<Value>,
): void {
  listAndAdd(app, store, kind);
  change(app, store, kind);
  retirement(app, store, kind);
  versions(app, kind);
}

function listAndAdd<Value extends { name: string }>(
  app: FastifyInstance,
  store: Store,
  { name, stock, most, schemas, read, checkFits }: Kind<Value>,
): void {
  app.get<{ Querystring: { retired?: boolean } }>(
    `/${name}s`,
    {
      schema: {
        querystring: Type.Object({ retired: Type.Optional(Type.Boolean()) }),
        ...{ response: { 200: Type.Array(schemas.stored) }, tags },
      },
    },
    ({ query }) =>
      stock
        .list()
        .filter(({ retired }) => !retired || query.retired === true)
        .map((record) => storedAs(name, record)),
  );
  app.post(
    `/${name}s`,
    {
      ...readHere,
      schema: { body: schemas.value, response: { 201: schemas.stored, 409: Problem }, tags },
    },
    (request, reply) => {
      const value = must(read(request.body));
      const made = audited(store, request, (note) => {
        checkFits?.(value, null);
        if (stock.list().length >= most)
          throw new ProblemError('full', `there are ${most} ${name}s already`);
        const added = stock.add(value, stampOf(request));
        const said = say('added', { what: name, name: value.name });
        note({ ...subject(name, added.id), ...said, before: null, after: value });
        return added;
      });
      return reply.code(201).send(storedAs(name, made));
    },
  );
}

function change<Value extends { name: string }>(
  app: FastifyInstance,
  store: Store,
  { name, stock, schemas, read, checkFits, told = (value) => value, onChange }: Kind<Value>,
): void {
  const response = { 200: schemas.stored, 404: Problem, 409: Problem };
  app.put<{ Params: { id: number }; Querystring: { version: number } }>(
    `/${name}s/:id`,
    {
      ...readHere,
      schema: {
        ...{ params: idPath, body: schemas.value, response, tags },
        // Edited from this one: what was made meanwhile by another is not overwritten unseen.
        querystring: Type.Object({ version: Type.Integer({ minimum: 1 }) }),
      },
    },
    (request) => {
      const { id } = request.params;
      const value = must(read(request.body));
      const made = audited(store, request, (note) => {
        const before = known(name, stock, id);
        if (before.version !== request.query.version)
          throw new ProblemError('changed-meanwhile', meanwhile(name, before));
        if (!before.retired) checkFits?.(value, id);
        const after = stock.set(id, value, stampOf(request))!;
        const changed = differences(told(before.value), told(after.value));
        const said = say('changed', { what: name, name: before.value.name, ...changed });
        if (after.version !== before.version)
          note({ ...subject(name, id), ...said, before: before.value, after: value });
        return after;
      });
      onChange?.();
      return storedAs(name, made);
    },
  );
}

function retirement<Value extends { name: string }>(
  app: FastifyInstance,
  store: Store,
  { name, stock, schemas, checkFits, checkUnused }: Kind<Value>,
): void {
  const response = { 200: schemas.stored, 404: Problem, 409: Problem };
  app.put<{ Params: { id: number }; Body: { retired: boolean } }>(
    `/${name}s/:id/retirement`,
    { schema: { params: idPath, body: Retirement, response, tags } },
    (request) => {
      const { id } = request.params;
      const { retired } = request.body;
      return audited(store, request, (note) => {
        const before = known(name, stock, id);
        if (retired) checkUnused?.(id);
        else checkFits?.(before.value, id);
        if (before.retired === retired) return storedAs(name, before);
        const of = { what: name, name: before.value.name };
        const said = say(retired ? 'retired' : 'tookBack', of);
        note({ ...subject(name, id), ...said, before: { retired: !retired }, after: { retired } });
        return storedAs(name, stock.retire(id, retired)!);
      });
    },
  );
}

function versions<Value>(app: FastifyInstance, { name, stock, schemas }: Kind<Value>): void {
  app.get<{ Params: { id: number }; Querystring: { before?: number; limit?: number } }>(
    `/${name}s/:id/versions`,
    {
      schema: {
        params: idPath,
        querystring: Type.Object({
          before: Type.Optional(Type.Integer({ minimum: 1 })),
          limit: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.versionsPage })),
        }),
        ...{ response: { 200: schemas.versions, 404: Problem }, tags },
      },
    },
    ({ params: { id }, query: { before = Number.MAX_SAFE_INTEGER, limit = 20 } }) => {
      known(name, stock, id);
      const { page, next } = paged(
        limit,
        (most) => stock.versions(id, before, most),
        ({ version }) => version,
      );
      return {
        versions: page.map((record) => ({ ...versionOf(record), [name]: record.value })),
        next,
      };
    },
  );
}

function known<Value>(name: Name, stock: StockStore<Value>, id: number): StockRecord<Value> {
  const record = stock.one(id);
  if (!record) throw new ProblemError('not-found', `no ${name} ${id}`);
  return record;
}

const subject = (name: Name, id: number) =>
  ({ area: `${name}s`, subject: `${name} ${id}` }) as const;

const meanwhile = (name: Name, { by, version, value }: StockRecord<{ name: string }>) =>
  `${by ?? 'somebody'} changed ${name} "${value.name}" meanwhile: it is at version ${version}`;
