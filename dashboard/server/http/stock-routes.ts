import type { FastifyInstance } from 'fastify';
import { type TSchema, Type } from 'typebox';
import { Circuit } from '../../../shared/protocol/circuit.ts';
import {
  CircuitVersions,
  PlateVersions,
  Problem,
  Retirement,
  StoredCircuit,
  StoredPlate,
} from '../../../shared/protocol/http.ts';
import { Plate } from '../../../shared/protocol/plate.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { readPlate } from '../../../shared/protocol/read-plate.ts';
import type { Read } from '../../../shared/protocol/schema-faults.ts';
import { limits } from '../limits.ts';
import { audited } from '../people/audited.ts';
import { differences } from '../people/differences.ts';
import { stampOf } from '../people/signature.ts';
import type { StockRecord, StockStore } from '../store/stock-store.ts';
import type { Store } from '../store/store.ts';
import { storedCircuit, storedPlate, versionOf } from '../store/stored.ts';
import { paged } from './paged.ts';
import { ProblemError } from './problems.ts';
import { idPath, must, type Parts, readHere } from './routes.ts';

interface Kind<Value> {
  name: 'circuit' | 'plate';
  stock: StockStore<Value>;
  most: number;
  schemas: { value: TSchema; stored: TSchema; versions: TSchema };
  read(body: unknown): Read<Value>;
  told(record: StockRecord<Value>): object;
}

/** Circuits and plates: what the shop has, each with every version that it had. */
export const stockRoutes = (parts: Parts) =>
  async function stocks(app: FastifyInstance): Promise<void> {
    const { circuits, plates } = parts.store;
    const of = {
      circuit: { value: Circuit, stored: StoredCircuit, versions: CircuitVersions },
      plate: { value: Plate, stored: StoredPlate, versions: PlateVersions },
    };
    const circuit: Kind<Circuit> = {
      ...{ name: 'circuit', stock: circuits, most: limits.circuits, schemas: of.circuit },
      ...{ read: readCircuit, told: storedCircuit },
    };
    const plate: Kind<Plate> = {
      ...{ name: 'plate', stock: plates, most: limits.plates, schemas: of.plate },
      ...{ read: readPlate, told: storedPlate },
    };
    listAndAdd(app, parts, circuit);
    change(app, parts, circuit);
    versions(app, circuit);
    listAndAdd(app, parts, plate);
    change(app, parts, plate);
    versions(app, plate);
  };

const tags = ['shop'];

function listAndAdd<Value extends { name: string }>(
  app: FastifyInstance,
  { store }: Parts,
  { name, stock, most, schemas, read, told }: Kind<Value>,
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
        .map(told),
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
        if (stock.list().length >= most)
          throw new ProblemError('full', `there are ${most} ${name}s already`);
        const added = stock.add(value, stampOf(request));
        const says = `added ${name} "${value.name}"`;
        note({ ...subject(name, added.id), says, before: null, after: value });
        return added;
      });
      return reply.code(201).send(told(made));
    },
  );
}

function change<Value extends { name: string }>(
  app: FastifyInstance,
  { store, ingest }: Parts,
  { name, stock, schemas, read, told }: Kind<Value>,
): void {
  const known = (id: number): StockRecord<Value> => {
    const record = stock.one(id);
    if (!record) throw new ProblemError('not-found', `no ${name} ${id}`);
    return record;
  };
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
        const before = known(id);
        if (before.version !== request.query.version)
          throw new ProblemError('changed-meanwhile', meanwhile(name, before));
        const after = stock.set(id, value, stampOf(request))!;
        const changed = differences(before.value, after.value);
        const says = `changed ${name} "${before.value.name}": ${changed}`;
        if (after.version !== before.version)
          note({ ...subject(name, id), says, before: before.value, after: value });
        return after;
      });
      ingest.reassign();
      return told(made);
    },
  );
  app.put<{ Params: { id: number }; Body: { retired: boolean } }>(
    `/${name}s/:id/retirement`,
    { schema: { params: idPath, body: Retirement, response, tags } },
    (request) => {
      const { id } = request.params;
      const { retired } = request.body;
      return audited(store, request, (note) => {
        const before = known(id);
        if (retired) checkUnused(store, name, id);
        if (before.retired === retired) return told(before);
        const says = `${retired ? 'retired' : 'took back'} ${name} "${before.value.name}"`;
        note({ ...subject(name, id), says, before: { retired: !retired }, after: { retired } });
        return told(stock.retire(id, retired)!);
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
      if (!stock.one(id)) throw new ProblemError('not-found', `no ${name} ${id}`);
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

const subject = (name: 'circuit' | 'plate', id: number) =>
  ({ area: `${name}s`, subject: `${name} ${id}` }) as const;

const meanwhile = (name: string, { by, version, value }: StockRecord<{ name: string }>) =>
  `${by ?? 'somebody'} changed ${name} "${value.name}" meanwhile: it is at version ${version}`;

function checkUnused(store: Store, name: 'circuit' | 'plate', id: number): void {
  const user = store.sensors().find((sensor) => sensor[name] === id);
  if (user)
    throw new ProblemError('in-use', `it hangs on the sensor "${user.sensor}": set another there`);
  const feeder =
    name === 'circuit' &&
    store.feeders.list().find(({ feeder: { circuits } }) => circuits.includes(id));
  if (feeder)
    throw new ProblemError('in-use', `it hangs on the feeder "${feeder.feeder.name}": take it off`);
}
