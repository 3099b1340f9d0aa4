import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import { Problem } from '../../../shared/protocol/http.ts';
import { ArcSpectrum } from '../../../shared/protocol/http-spectrum.ts';
import { encodeWaveform } from '../../../shared/protocol/live-rows.ts';
import type { About } from '../../../shared/protocol/messages.ts';
import { encodeEnvelope } from '../../../shared/protocol/wave-envelope.ts';
import { ArcSpectra } from '../../../shared/watch/arc-spectrum.ts';
import { limits } from '../limits.ts';
import { scaled } from '../store/scaled.ts';
import type { ArcRecord, Block, Store } from '../store/store.ts';
import { arcBlocks } from './arc-blocks.ts';
import { knownArc, marginS } from './arc-routes.ts';
import { waveform } from './columns.ts';
import { EnvelopeSums } from './envelope.ts';
import { ProblemError } from './problems.ts';
import { idPath, type Parts } from './routes.ts';

/** Looked at beside an arc at the most: what the sensor keeps before and after it. */
const besideS = 5;
/** Read before a window: cycles are found in a tenth of a second, windows lie a fifth apart. */
const leadS = 1;
const tags = ['arcs'];
const stretch = Type.Object({
  fromS: Type.Optional(Type.Number()),
  toS: Type.Optional(Type.Number()),
  points: Type.Optional(Type.Integer({ minimum: 1, maximum: limits.envelopeBins })),
});
const binary = {
  200: {
    description: 'Columns: live-rows.ts tells the single samples, wave-envelope.ts the extremes',
    content: { 'application/octet-stream': { schema: Type.String({ format: 'binary' }) } },
  },
  404: Problem,
};

/** An arc's samples, near and from afar, and their spectrum. */
export const waveRoutes = ({ store }: Parts): FastifyPluginAsyncTypebox =>
  async function waves(app) {
    app.get(
      '/arcs/:id/waveform',
      { schema: { params: idPath, querystring: stretch, response: binary, tags } },
      async ({ params, query }, reply) => {
        const arc = knownArc(store, params.id);
        const body = await waveBody(store, arc, query);
        return reply.type('application/octet-stream').send(Buffer.from(body.buffer) as never);
      },
    );
    app.get(
      '/arcs/:id/spectrum',
      {
        config: { rateLimit: { max: 120, timeWindow: 60_000 } },
        schema: {
          ...{ params: idPath, tags },
          querystring: Type.Object({ atS: Type.Optional(Type.Number()) }),
          response: { 200: ArcSpectrum, 404: Problem },
        },
      },
      ({ params, query }) => spectrum(store, knownArc(store, params.id), query.atS),
    );
  };

function aboutOf(store: Store, { sensor, boot }: ArcRecord): About {
  const about = store.about(sensor, boot);
  if (!about) throw new ProblemError('not-found', 'the sensor of that time is not known');
  return about;
}

async function waveBody(
  store: Store,
  arc: ArcRecord,
  { fromS, toS, points }: { fromS?: number; toS?: number; points?: number },
): Promise<Uint8Array<ArrayBuffer>> {
  const { start, end, rateHz } = arc;
  const about = aboutOf(store, arc);
  const lengthS = (end - start) / rateHz;
  const from = Math.ceil(start + Math.max(fromS ?? -marginS, -besideS) * rateHz);
  const wanted = start + Math.min(toS ?? lengthS + marginS, lengthS + besideS) * rateHz;
  const fromAfar = points !== undefined && wanted - from > 2 * points;
  const most = fromAfar ? Number.POSITIVE_INFINITY : from + limits.waveformFrames;
  const to = Math.max(from, Math.min(most, Math.floor(wanted)));
  const place = { start, from, to };
  const sums = fromAfar ? new EnvelopeSums(about, { ...place, bins: points }) : null;
  const blocks: Block[] = [];
  let count = 0;
  for await (const block of arcBlocks(store, arc, from, to)) {
    count += 1;
    if (sums) sums.add(block);
    else blocks.push(block);
  }
  if (count === 0 && !anyOf(store, arc))
    throw new ProblemError('not-found', 'the waveform was given up to make room');
  return sums ? encodeEnvelope(sums.envelope()) : encodeWaveform(waveform(blocks, about, place));
}

/** A hole between blocks is a waveform of NaN; an arc without any block has none. */
const anyOf = (store: Store, { sensor, boot, start, end }: ArcRecord): boolean =>
  store.blocks(sensor, boot, start, end).length > 0;

async function spectrum(store: Store, arc: ArcRecord, atS: number | undefined) {
  const { start, end, rateHz, pairs, circuit } = arc;
  const about = aboutOf(store, arc);
  const at = atS === undefined ? null : start + atS * rateHz;
  const middle: [number, number] = at === null ? [start, end] : [at, at];
  const [from, to] = [
    Math.floor(middle[0] - leadS * rateHz),
    Math.ceil(middle[1] + leadS * rateHz),
  ];
  const columns = Array.from({ length: 2 * pairs }, () => new Float64Array(1_024));
  const shape = { rateHz, pairs, nominalHertz: circuit?.hertz ?? null };
  let spectra: ArcSpectra | null = null;
  let expected = 0;
  for await (const block of arcBlocks(store, arc, from, to)) {
    spectra ??= new ArcSpectra({ ...shape, from: start, to: end, at }, block.first);
    if (expected > 0 && block.first > expected) spectra.skip(block.first - expected);
    scaled(block, about, columns);
    spectra.push(columns, block.n);
    expected = block.first + block.n;
  }
  const told = spectra?.told(start) ?? null;
  if (told) return told;
  throw new ProblemError(
    'not-found',
    spectra || anyOf(store, arc)
      ? 'no whole window of 10 or 12 cycles lies there'
      : 'the waveform was given up to make room',
  );
}
