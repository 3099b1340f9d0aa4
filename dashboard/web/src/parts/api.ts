import type { Circuit, Cord } from '../../../../shared/protocol/circuit.ts';
import type { Feeder } from '../../../../shared/protocol/feeder.ts';
import type {
  ArcDetail,
  ArcPage,
  ArcSummary,
  Assignment,
  History,
  Problem,
  RowColumns,
  SagList,
  Sensor,
  StoredCircuit,
  StoredPlate,
} from '../../../../shared/protocol/http.ts';
import type { Check, KeptCheck, NewCheck } from '../../../../shared/protocol/http-check.ts';
import type { Remedies } from '../../../../shared/protocol/http-plan.ts';
import type {
  JudgedRecording,
  RecordingAbout,
} from '../../../../shared/protocol/http-recording.ts';
import type { ShopSettings } from '../../../../shared/protocol/http-settings.ts';
import type { ArcSpectrum } from '../../../../shared/protocol/http-spectrum.ts';
import type { OtherLoadList, SupplyHistory } from '../../../../shared/protocol/http-supply.ts';
import { decodeWaveform, type Waveform } from '../../../../shared/protocol/live-rows.ts';
import type { CheckChoice } from '../../../../shared/protocol/outlet-check.ts';
import type { Plan, PlannedCircuit } from '../../../../shared/protocol/planning.ts';
import { decodeEnvelope, type WaveEnvelope } from '../../../../shared/protocol/wave-envelope.ts';
import { askSignIn } from '../people/asking.ts';
import { faultsSaid } from './said.ts';
import { refusalsKnown, words } from './words.ts';

/** An answer that was no; its message is the server's own sentence. */
export class Refusal extends Error {
  readonly code: string | null;
  /** Seconds until it is worth trying again, where the server says so. */
  readonly waitS: number | null;

  constructor(message: string, code: string | null = null, waitS: number | null = null) {
    super(message);
    this.code = code;
    this.waitS = waitS;
  }
}

/** No word by then: a connection that died while nobody looked is given up, and another opened. */
const answerWithinMs = 15_000;

async function ask(path: string, init?: RequestInit): Promise<Response> {
  const patience = new AbortController();
  const timer = setTimeout(() => patience.abort(), answerWithinMs);
  const answer = await fetch(`/api/v1${path}`, { ...init, signal: patience.signal })
    .catch(() => {
      throw new Refusal(words.parts.faults.noAnswer);
    })
    .finally(() => clearTimeout(timer));
  if (answer.ok) return answer;
  const problem = (await answer.json().catch(() => null)) as Problem | null;
  const code = problem?.code ?? null;
  // Whoever may do it signs in over what is on the screen; then it is asked again.
  if ((code === 'not-signed-in' || code === 'not-allowed') && (await askSignIn(code)))
    return ask(path, init);
  const waitS = Number(answer.headers.get('retry-after')) || null;
  await refusalsKnown;
  const detail = problem && faultsSaid(problem.detail);
  throw new Refusal(detail ?? words.parts.faults.refused(answer.status), code, waitS);
}

export const get = async <T>(path: string): Promise<T> => (await (await ask(path)).json()) as T;

export async function send<T>(
  method: 'PUT' | 'POST' | 'DELETE',
  path: string,
  body?: unknown,
): Promise<T> {
  const headers = { 'content-type': 'application/json' };
  const sent = body === undefined ? { method } : { method, headers, body: JSON.stringify(body) };
  const answer = await ask(path, sent);
  return (answer.status === 204 ? null : await answer.json()) as T;
}

export const query = (of: Record<string, string | number | null | undefined>): string => {
  const params = new URLSearchParams();
  for (const [key, value] of Object.entries(of)) if (value != null) params.set(key, `${value}`);
  return params.size > 0 ? `?${params}` : '';
};
const sensorPath = (id: string) => `/sensors/${encodeURIComponent(id)}`;

/** True where the server lives but wants the access code first. */
export const codeIsNeeded = (): Promise<boolean> =>
  ask('/sensors').then(
    () => false,
    (error: Refusal) => error.code === 'access-code-needed',
  );
export const showCode = (code: string) => send<null>('POST', '/access', { code });

export interface ArcQuery {
  sensor?: string | null;
  verdict?: string;
  before?: string | null;
  limit?: number;
}
export const arcPage = (of: ArcQuery) => get<ArcPage>(`/arcs${query({ ...of })}`);
export const arcDetail = (id: number) => get<ArcDetail>(`/arcs/${id}`);
export const arcRows = (id: number) => get<RowColumns>(`/arcs/${id}/rows`);
export const acknowledge = (id: number, by: string) =>
  send<ArcSummary>('PUT', `/arcs/${id}/acknowledgement`, by === '' ? {} : { by });

/** Single samples, or where there are more than two a point their extremes. */
export async function arcWave(
  id: number,
  fromS: number,
  toS: number,
  points: number,
): Promise<Waveform | WaveEnvelope> {
  const answer = await ask(`/arcs/${id}/waveform${query({ fromS, toS, points })}`);
  const body = await answer.arrayBuffer();
  const wave = decodeWaveform(body) ?? decodeEnvelope(body);
  if (!wave) throw new Refusal(words.parts.faults.strangeWaveform);
  return wave;
}
/** The mean of the arc, or the window that holds a moment of it. */
export const arcSpectrum = (id: number, atS: number | null) =>
  get<ArcSpectrum>(`/arcs/${id}/spectrum${query({ atS })}`);

const iso = (ms: number) => new Date(ms).toISOString();
export const history = (id: string, fromMs: number, toMs: number, points: number) =>
  get<History>(`${sensorPath(id)}/history${query({ from: iso(fromMs), to: iso(toMs), points })}`);
export const sags = (id: string, fromMs: number, toMs: number) =>
  get<SagList>(`${sensorPath(id)}/sags${query({ from: iso(fromMs), to: iso(toMs) })}`);

export const supplyHistory = (id: string, fromMs: number, toMs: number) =>
  get<SupplyHistory>(`${sensorPath(id)}/supply${query({ from: iso(fromMs), to: iso(toMs) })}`);
export const otherLoads = (id: string, fromMs: number, toMs: number) =>
  get<OtherLoadList>(`${sensorPath(id)}/other-loads${query({ from: iso(fromMs), to: iso(toMs) })}`);
/** Where a file is fetched from. */
export const historyFile = (id: string, fromMs: number, toMs: number): string =>
  `/api/v1${sensorPath(id)}/history.csv${query({ from: iso(fromMs), to: iso(toMs) })}`;
export const arcsFile = (sensor: string): string => `/api/v1/arcs.csv${query({ sensor })}`;
export const arcFile = (id: number, name: string): string => `/api/v1/arcs/${id}/${name}`;

/** Those to choose from. */
export const storedCircuits = () => get<StoredCircuit[]>('/circuits');
export const storedPlates = () => get<StoredPlate[]>('/plates');
/** With the retired ones. */
export const everyCircuit = () => get<StoredCircuit[]>('/circuits?retired=true');
export const everyPlate = () => get<StoredPlate[]>('/plates?retired=true');
export const assign = (id: string, assignment: Assignment) =>
  send<Sensor>('PUT', `${sensorPath(id)}/assignment`, assignment);

/** Over the version that is stored now. */
export async function saveOfCircuit(
  id: number,
  change: Pick<Circuit, 'cords'> | Pick<Circuit, 'sensorAt'>,
): Promise<StoredCircuit> {
  const stored = (await storedCircuits()).find((each) => each.id === id);
  if (!stored) throw new Refusal(words.shop.noneSuch);
  const { circuit, version } = stored;
  return send('PUT', `/circuits/${id}?version=${version}`, { ...circuit, ...change });
}

export const beginCheck = (wish: NewCheck) => send<Check>('POST', '/checks', wish);
export const keptChecks = (sensor: string | null) =>
  get<KeptCheck[]>(`/checks${query({ sensor })}`);
export const check = (id: number) => get<Check>(`/checks/${id}`);
export const chooseStep = (id: number, choice: CheckChoice) =>
  send<Check>('POST', `/checks/${id}/choice`, { choice });

/** One file, or a .cfg with its .dat. */
export async function judgeRecording(
  files: readonly File[],
  about: RecordingAbout,
): Promise<JudgedRecording> {
  const body = new FormData();
  body.set('about', JSON.stringify(about));
  for (const file of files) body.append('recording', file);
  return (await (await ask('/recordings', { method: 'POST', body })).json()) as JudgedRecording;
}

export const remediesAt = (id: string) => get<Remedies>(`${sensorPath(id)}/remedies`);
/** The same, with what another cord would do; null asks for none at all. */
export const tryCord = (id: string, cord: Cord | null) =>
  get<Remedies>(`${sensorPath(id)}/remedies${query(cord ? { ...cord } : { feet: 0 })}`);

export const shopSettings = () => get<ShopSettings>('/settings');
export const saveShopSettings = (settings: ShopSettings) =>
  send<ShopSettings>('PUT', '/settings', settings);

export const planFeeders = () => get<Feeder[]>('/plan/feeders');
export const planCircuits = () => get<PlannedCircuit[]>('/plan/circuits');
export const planFor = (lists: object) => send<Plan>('POST', '/plan', lists);
