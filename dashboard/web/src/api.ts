import type { ArcDetail, Problem, RowColumns } from '../../../shared/protocol/http.ts';
import { decodeWaveform, type Waveform } from '../../../shared/protocol/live-rows.ts';

/** An answer that was no; its message is the server's own sentence. */
export class Refusal extends Error {}

async function ask(path: string, init?: RequestInit): Promise<Response> {
  const answer = await fetch(`/api/v1${path}`, init).catch(() => {
    throw new Refusal('The server does not answer.');
  });
  if (answer.ok) return answer;
  const problem = (await answer.json().catch(() => null)) as Problem | null;
  throw new Refusal(problem?.detail ?? `The server refused (${answer.status}).`);
}

export const arcDetail = async (id: number) =>
  (await (await ask(`/arcs/${id}`)).json()) as ArcDetail;

export const arcRows = async (id: number) =>
  (await (await ask(`/arcs/${id}/rows`)).json()) as RowColumns;

export async function arcWaveform(id: number): Promise<Waveform> {
  const wave = decodeWaveform(await (await ask(`/arcs/${id}/waveform`)).arrayBuffer());
  if (!wave) throw new Refusal('The waveform came in a shape that this page does not know.');
  return wave;
}
