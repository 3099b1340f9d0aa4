import type { Circuit, Cord } from '../../../../shared/protocol/circuit.ts';
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
import { decodeWaveform, type Waveform } from '../../../../shared/protocol/live-rows.ts';
import type { CheckChoice } from '../../../../shared/protocol/outlet-check.ts';
import type { Plan, PlannedCircuit } from '../../../../shared/protocol/planning.ts';
import type { Plate } from '../../../../shared/protocol/plate.ts';
import { words } from './words.ts';

/** An answer that was no; its message is the server's own sentence. */
export class Refusal extends Error {
  readonly code: string | null;

  constructor(message: string, code: string | null = null) {
    super(message);
    this.code = code;
  }
}

async function ask(path: string, init?: RequestInit): Promise<Response> {
  const answer = await fetch(`/api/v1${path}`, init).catch(() => {
    throw new Refusal(words.parts.faults.noAnswer);
  });
  if (answer.ok) return answer;
  const problem = (await answer.json().catch(() => null)) as Problem | null;
  throw new Refusal(problem?.detail ?? words.parts.faults.refused(answer.status), problem?.code);
}

const get = async <T>(path: string): Promise<T> => (await (await ask(path)).json()) as T;

async function send<T>(method: 'PUT' | 'POST', path: string, body: unknown): Promise<T> {
  const headers = { 'content-type': 'application/json' };
  const answer = await ask(path, { method, headers, body: JSON.stringify(body) });
  return (answer.status === 204 ? null : await answer.json()) as T;
}

const query = (of: Record<string, string | number | null | undefined>): string => {
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
  send<ArcSummary>('PUT', `/arcs/${id}/acknowledgement`, { by });

export async function arcWaveform(id: number, fromS: number, toS: number): Promise<Waveform> {
  const answer = await ask(`/arcs/${id}/waveform${query({ fromS, toS })}`);
  const wave = decodeWaveform(await answer.arrayBuffer());
  if (!wave) throw new Refusal(words.parts.faults.strangeWaveform);
  return wave;
}

const iso = (ms: number) => new Date(ms).toISOString();
export const history = (id: string, fromMs: number, toMs: number, points: number) =>
  get<History>(`${sensorPath(id)}/history${query({ from: iso(fromMs), to: iso(toMs), points })}`);
export const sags = (id: string, fromMs: number, toMs: number) =>
  get<SagList>(`${sensorPath(id)}/sags${query({ from: iso(fromMs), to: iso(toMs) })}`);

export const storedCircuits = () => get<StoredCircuit[]>('/circuits');
export const storedPlates = () => get<StoredPlate[]>('/plates');
/** What is edited, and the version that it was read as; null: it is new. */
type Edited = { id: number; version: number } | null;
const save = <T>(list: string, of: Edited, value: unknown) =>
  of === null
    ? send<T>('POST', list, value)
    : send<T>('PUT', `${list}/${of.id}?version=${of.version}`, value);
export const saveCircuit = (of: Edited, circuit: Circuit) =>
  save<StoredCircuit>('/circuits', of, circuit);
export const savePlate = (of: Edited, plate: Plate) => save<StoredPlate>('/plates', of, plate);
export const assign = (id: string, assignment: Assignment) =>
  send<Sensor>('PUT', `${sensorPath(id)}/assignment`, assignment);

export const beginCheck = (wish: NewCheck) => send<Check>('POST', '/checks', wish);
export const keptChecks = (sensor: string | null) =>
  get<KeptCheck[]>(`/checks${query({ sensor })}`);
export const check = (id: number) => get<Check>(`/checks/${id}`);
export const chooseStep = (id: number, choice: CheckChoice) =>
  send<Check>('POST', `/checks/${id}/choice`, { choice });

export const remediesAt = (id: string) => get<Remedies>(`${sensorPath(id)}/remedies`);
/** The same, with what another cord would do; null asks for none at all. */
export const tryCord = (id: string, cord: Cord | null) =>
  get<Remedies>(`${sensorPath(id)}/remedies${query(cord ? { ...cord } : { feet: 0 })}`);

export const planCircuits = () => get<PlannedCircuit[]>('/plan/circuits');
export const planFor = (lists: object) => send<Plan>('POST', '/plan', lists);
