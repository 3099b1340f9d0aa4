import {
  type FastifyPluginAsyncTypebox,
  TypeBoxValidatorCompiler,
} from '@fastify/type-provider-typebox';
import type { FastifyRouteSchemaDef } from 'fastify/types/schema.js';
import { type TSchema, Type } from 'typebox';
import { Assignment, History, Problem, SagList, Sensor } from '../../../shared/protocol/http.ts';
import type { Read } from '../../../shared/protocol/schema-faults.ts';
import type { Ingest } from '../ingest/ingest.ts';
import { limits } from '../limits.ts';
import { type Floor, rfc3339 } from '../live/floor.ts';
import type { Store } from '../store/store.ts';
import { hang } from './hang.ts';
import { ProblemError } from './problems.ts';

export interface Parts {
  store: Store;
  floor: Floor;
  ingest: Ingest;
}

export const sensorPath = Type.Object({ sensor: Type.String({ maxLength: 65 }) });
export const idPath = Type.Object({ id: Type.Integer({ minimum: 1 }) });
const defaultHistoryPoints = 600;

export const span = Type.Object({
  from: Type.String({ format: 'date-time' }),
  to: Type.String({ format: 'date-time' }),
});
const buckets = Type.Object({
  ...span.properties,
  points: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.historyPoints })),
});

export function between({ from, to }: { from: string; to: string }): [number, number] {
  const [fromMs, toMs] = [Date.parse(from), Date.parse(to)];
  if (!(toMs > fromMs)) throw new ProblemError('bad-request', '"to" must be after "from"');
  return [fromMs, toMs];
}

/**
 * Written by plain JSON, which makes null of what is no number: a serializer of the schema would
 * throw at it, and one sensor's odd figure would hide all others.
 */
const asItIs = { serializerCompiler: () => (value: unknown) => JSON.stringify(value) };

/** Sensors: how they stand, what hangs on them, what they told. */
export const sensorRoutes = ({ store, floor, ingest }: Parts): FastifyPluginAsyncTypebox =>
  async function sensors(app) {
    const known = (id: string): Sensor => {
      const sensor = floor.sensor(id);
      if (!sensor) throw new ProblemError('not-found', `there is no sensor "${id}"`);
      return sensor;
    };
    app.get(
      '/sensors',
      { schema: { response: { 200: Type.Array(Sensor) }, tags: ['floor'] }, ...asItIs },
      () => floor.sensors(),
    );
    app.get(
      '/sensors/:sensor',
      {
        schema: { params: sensorPath, response: { 200: Sensor, 404: Problem }, tags: ['floor'] },
        ...asItIs,
      },
      ({ params }) => known(params.sensor),
    );
    app.put(
      '/sensors/:sensor/assignment',
      {
        schema: {
          ...{ params: sensorPath, body: Assignment, tags: ['floor'] },
          response: { 200: Sensor, 404: Problem },
        },
      },
      (request) => {
        const { params, body } = request;
        known(params.sensor);
        hang(store, request, params.sensor, body);
        ingest.reassign();
        return known(params.sensor);
      },
    );
    app.get(
      '/sensors/:sensor/history',
      {
        schema: {
          ...{ params: sensorPath, querystring: buckets, tags: ['floor'] },
          response: { 200: History, 404: Problem },
        },
      },
      ({ params, query }) => {
        const { id, pairs } = known(params.sensor);
        return history(store, id, pairs, between(query), query.points ?? defaultHistoryPoints);
      },
    );
    app.get(
      '/sensors/:sensor/sags',
      {
        schema: {
          ...{ params: sensorPath, querystring: span, tags: ['floor'] },
          response: { 200: SagList, 404: Problem },
        },
      },
      ({ params, query }) => {
        const [fromUs, toUs] = between(query).map((ms) => ms * 1_000) as [number, number];
        const most = limits.sagsList;
        const { id } = known(params.sensor);
        const found = store.sags({ sensor: id, fromUs, toUs, limit: most + 1 });
        const sags = found.map(({ sag, startedUs }) => ({ ...sag, at: rfc3339(startedUs) }));
        return { sags: sags.slice(0, most), more: found.length > most };
      },
    );
  };

function history(
  store: Store,
  id: string,
  pairs: number,
  [fromMs, toMs]: [number, number],
  points: number,
): History {
  const bucketMs = Math.max(1_000, Math.ceil((toMs - fromMs) / points));
  const count = Math.ceil((toMs - fromMs) / bucketMs);
  const empty = () =>
    Array.from({ length: pairs }, () => new Array<number | null>(count).fill(null));
  const answer: History = {
    from: new Date(fromMs).toISOString(),
    to: new Date(toMs).toISOString(),
    bucketS: bucketMs / 1_000,
    timeS: Array.from({ length: count }, (_, at) => ((at + 0.5) * bucketMs) / 1_000),
    ...{ voltsMin: empty(), voltsMax: empty(), ampsMin: empty(), ampsMax: empty() },
  };
  for (const bucket of store.history(id, fromMs, toMs, bucketMs))
    for (const key of ['voltsMin', 'voltsMax', 'ampsMin', 'ampsMax'] as const)
      for (let pair = 0; pair < pairs; pair++)
        answer[key][pair]![bucket.index] = bucket[key][pair] ?? null;
  return answer;
}

/** A body that is read by its own reader, which names every fault by path. */
export const readHere = {
  validatorCompiler: (route: FastifyRouteSchemaDef<TSchema>) =>
    route.httpPart === 'body' ? (value: unknown) => ({ value }) : TypeBoxValidatorCompiler(route),
};

export function must<T>(read: Read<T>): T {
  if (read.ok) return read.value;
  const says = read.faults.map((fault) => `${fault.path} ${fault.says}`);
  throw new ProblemError('bad-request', says.join('; '));
}
