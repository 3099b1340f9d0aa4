import { Readable } from 'node:stream';
import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import type { FastifyReply } from 'fastify';
import { type TSchema, Type } from 'typebox';
import { Circuit } from '../../../shared/protocol/circuit.ts';
import { Problem, VerdictSchema } from '../../../shared/protocol/http.ts';
import { Plate } from '../../../shared/protocol/plate.ts';
import { placed } from '../../../shared/rules/place.ts';
import { limits } from '../limits.ts';
import { rfc3339, summary } from '../live/floor.ts';
import type { ArcQuery, ArcRecord, Store } from '../store/store.ts';
import { type ArcStretch, arcStretch, cffOf, csvOf } from './arc-recording.ts';
import { knownArc, marginS } from './arc-routes.ts';
import { rowColumns } from './columns.ts';
import { csvLine, rounded } from './csv.ts';
import { ProblemError } from './problems.ts';
import { between, idPath, type Parts, sensorPath, span } from './routes.ts';

const tags = ['exports'];
/** A file is read from the disk from end to end: some a minute are a person's doing. */
const config = { rateLimit: { max: 60, timeWindow: 60_000 } };
/** Buckets of history read at once: an hour of seconds. */
const bucketsAtOnce = 3_600;
const csv = 'text/csv; charset=utf-8';

const file = (type: string, schema: TSchema = Type.String()) => ({
  200: { description: 'A file', content: { [type]: { schema } } },
  404: Problem,
});

/** Files to take along: lists and figures as CSV, an arc as a recording that is judged again. */
export const exportRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function exports(app) {
    const filters = Type.Object({
      sensor: Type.Optional(Type.String({ maxLength: 65 })),
      verdict: Type.Optional(VerdictSchema),
    });
    app.get(
      '/arcs.csv',
      { config, schema: { querystring: filters, response: { 200: file(csv)[200] }, tags } },
      ({ query }, reply) => send(reply, csv, 'arcs.csv', arcLines(store, query)),
    );
    app.get(
      '/sensors/:sensor/history.csv',
      {
        config,
        schema: {
          ...{ params: sensorPath, response: file(csv), tags },
          querystring: Type.Object({
            ...span.properties,
            stepS: Type.Optional(Type.Integer({ minimum: 1, maximum: 86_400 })),
          }),
        },
      },
      ({ params, query }, reply) => {
        const sensor = floor.sensor(params.sensor);
        if (!sensor) throw new ProblemError('not-found', `there is no sensor "${params.sensor}"`);
        const [fromMs, toMs] = between(query);
        if (toMs - fromMs > (limits.historyDays + 1) * 86_400_000)
          throw new ProblemError('bad-request', `at most ${limits.historyDays} days are kept`);
        const lines = historyLines(store, sensor.id, sensor.pairs, fromMs, toMs, query.stepS ?? 1);
        return send(reply, csv, `${sensor.id}-history-${stamp(fromMs * 1_000)}.csv`, lines);
      },
    );
  };

/** One arc's files. */
export const arcExportRoutes = ({ store }: Parts): FastifyPluginAsyncTypebox =>
  async function arcExports(app) {
    const asked = { params: idPath, tags };
    const named = (arc: ArcRecord, rest: string) =>
      `${arc.sensor}-${stamp(arc.startedUs)}-arc-${arc.id}${rest}`;
    app.get(
      '/arcs/:id/rows.csv',
      { config, schema: { ...asked, response: file(csv) } },
      ({ params }, reply) => {
        const arc = knownArc(store, params.id);
        return send(reply, csv, named(arc, '-rows.csv'), rowLines(store, arc));
      },
    );
    app.get(
      '/arcs/:id/waveform.csv',
      { config, schema: { ...asked, response: file(csv) } },
      async ({ params }, reply) => {
        const { arc, about, stretch } = await recorded(store, params.id);
        return send(reply, csv, named(arc, '.csv'), csvOf(store, arc, about, stretch));
      },
    );
    const bytes = 'application/octet-stream';
    app.get(
      '/arcs/:id/recording.cff',
      { config, schema: { ...asked, response: file(bytes, Type.String({ format: 'binary' })) } },
      async ({ params }, reply) => {
        const { arc, about, stretch } = await recorded(store, params.id);
        return send(reply, bytes, named(arc, '.cff'), cffOf(store, arc, about, stretch));
      },
    );
    app.get(
      '/arcs/:id/plate.json',
      { schema: { ...asked, response: { 200: Plate, 404: Problem } } },
      ({ params }, reply) => {
        const arc = knownArc(store, params.id);
        if (!arc.plate) throw new ProblemError('not-found', 'no machine was named for this arc');
        attached(reply, named(arc, '-plate.json'));
        return arc.plate;
      },
    );
    app.get(
      '/arcs/:id/circuit.json',
      { schema: { ...asked, response: { 200: Circuit, 404: Problem } } },
      ({ params }, reply) => {
        const arc = knownArc(store, params.id);
        if (!arc.circuit) throw new ProblemError('not-found', 'the circuit was not described');
        attached(reply, named(arc, '-circuit.json'));
        return placed(arc.circuit, store.about(arc.sensor, arc.boot)?.at)!;
      },
    );
  };

const attached = (reply: FastifyReply, name: string): FastifyReply =>
  reply.header('content-disposition', `attachment; filename="stiffline-${name}"`);

function send(
  reply: FastifyReply,
  type: string,
  name: string,
  parts: Iterable<string> | AsyncIterable<Buffer>,
): FastifyReply {
  return attached(reply, name)
    .type(type)
    .send(Readable.from(parts, { objectMode: false }));
}

/** A time as a file's name may hold it. */
const stamp = (us: number): string => rfc3339(us).replace(/\.\d+|[-:]/g, '');

async function recorded(store: Store, id: number) {
  const arc = knownArc(store, id);
  const about = store.about(arc.sensor, arc.boot);
  const stretch: ArcStretch | null = about && (await arcStretch(store, arc));
  if (!about || !stretch)
    throw new ProblemError('not-found', 'the waveform was given up to make room');
  return { arc, about, stretch };
}

/** All arcs, newest first, a page at a time: the list may be longer than memory. */
function* arcLines(store: Store, query: Pick<ArcQuery, 'sensor' | 'verdict'>): Generator<string> {
  yield csvLine([
    ...['id', 'sensor', 'circuit', 'machine', 'started', 'duration_s', 'verdict', 'says'],
    ...['lowest_200ms_V', 'mean_A', 'acknowledged_by', 'acknowledged_at'],
  ]);
  for (let before: ArcQuery['before']; ; ) {
    const page = store.arcs({ ...query, before, limit: limits.arcsPage });
    yield page.map(arcLine).join('');
    if (page.length < limits.arcsPage) return;
    before = page.at(-1)!;
  }
}

function arcLine(record: ArcRecord): string {
  const { id, sensor, circuitName, plateName, startedAt, durationS, ...more } = summary(record);
  return csvLine([
    ...[id, sensor, circuitName, plateName, startedAt, rounded(durationS, 3)],
    ...[more.verdict, more.says, rounded(more.minVolts200ms, 2), rounded(more.meanAmps, 2)],
    ...[more.acknowledged?.by, more.acknowledged?.at],
  ]);
}

const perPair = (pairs: number, names: (pair: number) => string[]): string[] =>
  Array.from({ length: pairs }, (_, pair) => names(pair + 1)).flat();

/** Lowest and highest half cycle of each step; steps of which nothing was told are left out. */
function* historyLines(
  store: Store,
  sensor: string,
  pairs: number,
  fromMs: number,
  toMs: number,
  stepS: number,
): Generator<string> {
  const ends = (p: number) => [
    ...[`v${p}_lowest_V`, `v${p}_highest_V`, `i${p}_lowest_A`, `i${p}_highest_A`],
  ];
  yield csvLine(['time', ...perPair(pairs, ends)]);
  const stepMs = stepS * 1_000;
  for (let at = fromMs; at < toMs; at += stepMs * bucketsAtOnce) {
    const until = Math.min(toMs, at + stepMs * bucketsAtOnce);
    for (const bucket of store.history(sensor, at, until, stepMs)) {
      const figures = Array.from({ length: pairs }, (_, pair) =>
        [bucket.voltsMin, bucket.voltsMax, bucket.ampsMin, bucket.ampsMax].map((column) =>
          rounded(column[pair], 3),
        ),
      );
      yield csvLine([rfc3339((at + bucket.index * stepMs) * 1_000), ...figures.flat()]);
    }
  }
}

/** Half-cycle rows; a hole is a line without figures. */
function* rowLines(store: Store, arc: ArcRecord): Generator<string> {
  const { sensor, boot, start, end, rateHz, pairs } = arc;
  const [from, to] = [start - marginS * rateHz, end + marginS * rateHz];
  const batches = store.rows(sensor, boot, from, to);
  const { timeS, hertz, volts, amps, watts } = rowColumns(batches, {
    ...{ start, from, to, rateHz, pairs },
  });
  yield csvLine(['t_s', 'hertz', ...perPair(pairs, (p) => [`v${p}_V`, `i${p}_A`, `p${p}_W`])]);
  for (let row = 0; row < timeS.length; row++)
    yield csvLine([
      ...[rounded(timeS[row], 6), rounded(hertz[row], 4)],
      ...volts.flatMap((column, pair) => [
        rounded(column[row], 3),
        rounded(amps[pair]![row], 4),
        rounded(watts[pair]![row], 2),
      ]),
    ]);
}
