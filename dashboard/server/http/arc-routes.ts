import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import {
  Acknowledgement,
  ArcDetail,
  ArcPage,
  ArcSummary,
  Problem,
  RowColumns,
  VerdictSchema,
} from '../../../shared/protocol/http.ts';
import { encodeWaveform } from '../../../shared/protocol/live-rows.ts';
import { limits } from '../limits.ts';
import { summary } from '../live/floor.ts';
import type { ArcQuery, ArcRecord, Store } from '../store/store.ts';
import { rowColumns, waveform } from './columns.ts';
import { ProblemError } from './problems.ts';
import type { Parts } from './routes.ts';

const tags = ['arcs'];
const idPath = Type.Object({ id: Type.Integer({ minimum: 1 }) });
/** Shown on both sides of an arc: the supply's own voltage before and after. */
const marginS = 0.5;
const query = Type.Object({
  sensor: Type.Optional(Type.String({ maxLength: 65 })),
  verdict: Type.Optional(VerdictSchema),
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.arcsPage })),
  before: Type.Optional(Type.String({ pattern: '^\\d{1,16}\\.\\d{1,16}$' })),
});
const stretch = Type.Object({
  fromS: Type.Optional(Type.Number()),
  toS: Type.Optional(Type.Number()),
});

function known(store: Store, id: number): ArcRecord {
  const arc = store.arc(id);
  if (!arc) throw new ProblemError('not-found', `there is no arc ${id}`);
  return arc;
}

/** Arcs: the list, each with its judgement, and who has seen it. */
export const arcRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function arcs(app) {
    app.get(
      '/arcs',
      { schema: { querystring: query, response: { 200: ArcPage }, tags } },
      ({ query: { sensor, verdict, limit = 50, before } }) => {
        const found = store.arcs({ sensor, verdict, before: cursor(before), limit: limit + 1 });
        const page = found.slice(0, limit);
        const last = page.at(-1);
        const next = found.length > limit && last ? `${last.startedUs}.${last.id}` : null;
        return { arcs: page.map(summary), next };
      },
    );
    app.get(
      '/arcs/:id',
      { schema: { params: idPath, response: { 200: ArcDetail, 404: Problem }, tags } },
      ({ params }) => {
        const record = known(store, params.id);
        const { arc, plate, circuit, rateHz, pairs, sensor, boot, start, end } = record;
        const kept = store.blocks(sensor, boot, start, Math.min(end, start + 1)).length > 0;
        return { summary: summary(record), arc, plate, circuit, rateHz, pairs, waveform: kept };
      },
    );
    app.put(
      '/arcs/:id/acknowledgement',
      {
        schema: {
          ...{ params: idPath, body: Type.Pick(Acknowledgement, ['by']), tags },
          response: { 200: ArcSummary, 404: Problem },
        },
      },
      ({ params, body }) => {
        const arc = store.acknowledge(params.id, body.by, Date.now() * 1_000);
        if (!arc) throw new ProblemError('not-found', `there is no arc ${params.id}`);
        return floor.acknowledged(arc);
      },
    );
  };

/** What an arc was judged from: its half-cycle rows and its samples. */
export const arcStreamRoutes = ({ store }: Parts): FastifyPluginAsyncTypebox =>
  async function arcStreams(app) {
    app.get(
      '/arcs/:id/rows',
      { schema: { params: idPath, response: { 200: RowColumns, 404: Problem }, tags } },
      ({ params }) => {
        const { sensor, boot, start, end, rateHz, pairs } = known(store, params.id);
        const [from, to] = [start - marginS * rateHz, end + marginS * rateHz];
        const batches = store.rows(sensor, boot, from, to);
        return rowColumns(batches, { start, from, to, rateHz, pairs });
      },
    );
    app.get(
      '/arcs/:id/waveform',
      { schema: { params: idPath, querystring: stretch, tags } },
      ({ params, query: { fromS, toS } }, reply) => {
        const { sensor, boot, start, end, rateHz } = known(store, params.id);
        const about = store.about(sensor, boot);
        if (!about) throw new ProblemError('not-found', 'the sensor of that time is not known');
        const lengthS = (end - start) / rateHz;
        const from = Math.ceil(start + Math.max(fromS ?? -marginS, -5) * rateHz);
        const most = from + limits.waveformFrames;
        const wanted = start + Math.min(toS ?? lengthS + marginS, lengthS + 5) * rateHz;
        const to = Math.max(from, Math.min(most, Math.floor(wanted)));
        const blocks = store.blocks(sensor, boot, from, to);
        if (blocks.length === 0)
          throw new ProblemError('not-found', 'the waveform was given up to make room');
        const body = encodeWaveform(waveform(blocks, about, { start, from, to }));
        return reply.type('application/octet-stream').send(Buffer.from(body.buffer));
      },
    );
  };

function cursor(text: string | undefined): ArcQuery['before'] {
  if (text === undefined) return undefined;
  const [startedUs, id] = text.split('.').map(Number);
  return { startedUs: startedUs!, id: id! };
}
