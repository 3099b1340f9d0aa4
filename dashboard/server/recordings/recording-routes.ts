import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import type { FastifyRequest } from 'fastify';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import { Problem } from '../../../shared/protocol/http.ts';
import type { Check } from '../../../shared/protocol/http-check.ts';
import { JudgedRecording, RecordingAbout } from '../../../shared/protocol/http-recording.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { schemaFaults } from '../../../shared/protocol/schema-faults.ts';
import type { RecordingReader } from '../../../shared/recording/reader.ts';
import { checkRecording } from '../../../shared/rules/outlet-check-recording.ts';
import { placed } from '../../../shared/rules/place.ts';
import { say } from '../../../shared/rules/say.ts';
import type { WatchSetup } from '../../../shared/watch/contract.ts';
import { recordingSetting } from '../../../shared/watch/recording-setting.ts';
import { ProblemError } from '../http/problems.ts';
import { must, type Parts } from '../http/routes.ts';
import { limits } from '../limits.ts';
import { audited } from '../people/audited.ts';
import { checkNames, signature } from '../people/signature.ts';
import { type JudgedUpload, judgeUpload } from './judge-upload.ts';
import { readUpload } from './upload.ts';

/** Recordings that somebody brings: judged, and kept as an outlet check where that is wanted. */
export const recordingRoutes = (parts: Parts): FastifyPluginAsyncTypebox =>
  async function recordings(app) {
    let underWay = 0;
    app.addContentTypeParser(
      'multipart/form-data',
      { parseAs: 'buffer', bodyLimit: limits.recordingBytes },
      (_request, body, done) => done(null, body),
    );
    app.post(
      '/recordings',
      {
        bodyLimit: limits.recordingBytes,
        schema: {
          response: { 200: JudgedRecording, 400: Problem, 413: Problem, 429: Problem },
          consumes: ['multipart/form-data'],
          tags: ['checks'],
        },
        // Before the body is taken in: each may be as large as it may.
        onRequest: async (_request, reply) => {
          if (underWay >= limits.recordingsAtOnce)
            throw new ProblemError('too-many', 'other recordings are being judged: try again soon');
          underWay += 1;
          let over = false;
          const leave = () => {
            if (!over) underWay -= 1;
            over = true;
          };
          reply.raw.once('close', leave).once('finish', leave);
        },
      },
      async (request) => {
        if (!Buffer.isBuffer(request.body))
          throw new ProblemError('bad-request', 'a multipart/form-data with a file is needed');
        const type = request.headers['content-type'] ?? '';
        const { reader, name, about } = await readUpload(request.body, type);
        const asked = wishOf(about);
        const setup = setUp(parts, reader, asked);
        const judged = await judgeUpload(name, reader, setup);
        const check = asked.keep && keep(parts, request, { name, asked, setup, ...judged });
        return { judgement: judged.judgement, check };
      },
    );
  };

function wishOf(about: unknown): RecordingAbout {
  const [fault] = schemaFaults(RecordingAbout, about);
  if (fault) throw new ProblemError('bad-request', `about.${fault.path} ${fault.says}`);
  return about as RecordingAbout;
}

function setUp({ store }: Parts, { facts }: RecordingReader, asked: RecordingAbout): WatchSetup {
  const plate = asked.plate === null ? null : store.plates.one(asked.plate);
  if (asked.plate !== null && !plate)
    throw new ProblemError('not-found', `no plate ${asked.plate}`);
  const stored = asked.circuit === null ? null : store.circuits.one(asked.circuit);
  if (asked.circuit !== null && !stored)
    throw new ProblemError('not-found', `no circuit ${asked.circuit}`);
  const { cords, at } = asked;
  const circuit: Circuit | null =
    stored && must(readCircuit(placed({ ...stored.value, cords }, at)));
  return {
    ...{ rateHz: facts.rateHz, pairs: facts.pairs, startedAt: facts.startedAt, circuit },
    nominalVolts: circuit?.volts ?? null,
    nominalHertz: circuit?.hertz ?? null,
    plate: plate?.value ?? null,
    sensorAt: at,
  };
}

interface Judged extends JudgedUpload {
  name: string;
  asked: RecordingAbout;
  setup: WatchSetup;
}

/** Nothing is kept of a recording in which nobody welded. */
function keep({ store, floor }: Parts, request: FastifyRequest, judged: Judged): Check {
  const { name, asked, setup, judgement, arcs } = judged;
  const { place = '' } = asked.keep ?? {};
  const person = signature(request, 'person', asked.keep?.person);
  checkNames({ person, place });
  const date = judgement.recording.startedAt ?? new Date().toISOString();
  const about = { date, person, place, cordFrom: 'first-bead' as const, recording: name };
  const { result } = checkRecording(about, recordingSetting(setup, judgement), arcs);
  if (!result)
    throw new ProblemError('bad-request', `${name}: no bead of some length was seen in it`);
  return audited(store, request, (note) => {
    const id = store.addCheck(null, about);
    store.judgeCheck(id, result);
    const said = say('recordingChecked', { by: person, recording: name, place });
    const after = { verdict: result.verdict, circuit: result.circuit, machine: result.machine };
    note({ area: 'checks', subject: `check ${id}`, ...said, before: {}, after });
    return floor.checks.view(id)!;
  });
}
