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
import { say } from '../../../shared/rules/say.ts';
import { limits } from '../limits.ts';
import { summary } from '../live/floor.ts';
import { audited } from '../people/audited.ts';
import { signature } from '../people/signature.ts';
import { splitOf } from '../store/split-of.ts';
import type { ArcRecord, Store } from '../store/store.ts';
import { arcPage, cursorPattern } from './arc-page.ts';
import { rowColumns } from './columns.ts';
import { ProblemError } from './problems.ts';
import { idPath, type Parts } from './routes.ts';

const tags = ['arcs'];
/** Shown on both sides of an arc: the supply's own voltage before and after. */
export const marginS = 0.5;
const query = Type.Object({
  sensor: Type.Optional(Type.String({ maxLength: 65 })),
  verdict: Type.Optional(VerdictSchema),
  limit: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.arcsPage })),
  before: Type.Optional(Type.String({ pattern: cursorPattern })),
});

/** The weld at the cord's other end, and who took the voltage. */
function twinOf(store: Store, record: ArcRecord): Pick<ArcDetail, 'at' | 'twin' | 'split'> {
  const at = record.hung?.at ?? null;
  const twin = record.twin === null ? null : store.arc(record.twin);
  if (twin === null) return { at, twin, split: null };
  const split = at === 'machine' ? splitOf(twin, record) : splitOf(record, twin);
  return { at, twin: summary(twin), split };
}

export function knownArc(store: Store, id: number): ArcRecord {
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
        return arcPage(store, { sensor, verdict, before, limit });
      },
    );
    app.get(
      '/arcs/:id',
      { schema: { params: idPath, response: { 200: ArcDetail, 404: Problem }, tags } },
      ({ params }) => {
        const record = knownArc(store, params.id);
        const { arc, plate, circuit, plateVersion, circuitVersion, rateHz, pairs } = record;
        const { sensor, boot, start, end } = record;
        const kept = store.blocks(sensor, boot, start, Math.min(end, start + 1)).length > 0;
        const judgedBy = { plate, circuit, plateVersion, circuitVersion };
        return {
          ...{ summary: summary(record), arc, ...judgedBy, rateHz, pairs, waveform: kept },
          ...twinOf(store, record),
        };
      },
    );
    app.put(
      '/arcs/:id/acknowledgement',
      {
        schema: {
          ...{ params: idPath, body: Type.Partial(Type.Pick(Acknowledgement, ['by'])), tags },
          response: { 200: ArcSummary, 404: Problem },
        },
      },
      (request) => {
        const { id } = request.params;
        const by = signature(request, 'by', request.body.by);
        const arc = audited(store, request, (note) => {
          const before = knownArc(store, id);
          const after = store.acknowledge(id, by, Date.now() * 1_000)!;
          const { verdict } = after.arc;
          const said = say('arcAcknowledged', { by, verdict, arc: id, sensor: after.sensor });
          if (!before.acknowledged)
            note({ area: 'arcs', subject: `arc ${id}`, ...said, before: null, after: { by } });
          return after;
        });
        return floor.acknowledged(arc);
      },
    );
  };

/** What an arc was judged from: its half-cycle rows. */
export const arcStreamRoutes = ({ store }: Parts): FastifyPluginAsyncTypebox =>
  async function arcStreams(app) {
    app.get(
      '/arcs/:id/rows',
      { schema: { params: idPath, response: { 200: RowColumns, 404: Problem }, tags } },
      ({ params }) => {
        const { sensor, boot, start, end, rateHz, pairs } = knownArc(store, params.id);
        const [from, to] = [start - marginS * rateHz, end + marginS * rateHz];
        const batches = store.rows(sensor, boot, from, to);
        return rowColumns(batches, { start, from, to, rateHz, pairs });
      },
    );
  };
