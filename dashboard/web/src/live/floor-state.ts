import { batch, computed, type Signal, signal } from '@preact/signals';
import type { ArcSummary, Reading, Sensor } from '../../../../shared/protocol/http.ts';
import type { Arc, Verdict } from '../../../../shared/protocol/judgement.ts';
import type { LiveMessage } from '../../../../shared/protocol/live.ts';
import type { LiveRows } from '../../../../shared/protocol/live-rows.ts';
import { isBroken } from '../../../../shared/protocol/verdicts.ts';
import { checkNews } from '../check/check-news.ts';
import { jobNews } from '../jobs/job-news.ts';
import { inOrder } from '../parts/format.ts';
import { RecentRows } from './recent-rows.ts';

/** What the page knows of one sensor. Readings change often and have a signal of their own. */
export interface Circuit {
  sensor: Signal<Sensor>;
  reading: Signal<Reading | null>;
  /** While an arc burns: judged so far. */
  soFar: Signal<{ verdict: Verdict; says: string } | null>;
  /** The arc that burns, or the last that this page knows of. */
  arc: Signal<Arc | null>;
  recent: RecentRows;
  /** Epoch ms by this page's clock when the sensor was last heard; null: not yet. */
  heardMs: number | null;
}

export type Link = 'connecting' | 'live' | 'stale' | 'offline' | 'locked';

export const link = signal<Link>('connecting');
/** Epoch ms of the last word from the server. */
export const heardMs = signal<number | null>(null);
export const circuits = signal<ReadonlyMap<string, Circuit>>(new Map());
export const arcs = signal<readonly ArcSummary[]>([]);
/** Frames of rows that this page was too slow for, since it was opened. */
export const rowsLeftOut = signal(0);
/** What went by while the page was cut off; null once it was read. */
export const missed = signal<{ seconds: number; arcs: number; weak: number } | null>(null);
/** A stretch that the page heard nothing of, epoch ms at the server. */
export interface Break {
  fromMs: number;
  toMs: number;
  /** More arcs went by than the greeting lists. */
  moreArcs: boolean;
}
/** The newest break; what fills it looks here. */
export const broke = signal<Break | null>(null);
/** The server's clock less this page's, ms. */
export const clockOffsetMs = signal(0);
/** The newest arc that ended underpowered while the page looked on. */
export const weakArc = signal<ArcSummary | null>(null);
/**
 * Counts the welds called underpowered, each at the first word of it, and the machines that must
 * not be plugged in; for the alarm.
 */
export const weakWelds = signal(0);

export const ordered = computed(() =>
  [...circuits.value.values()].sort((a, b) => {
    const [left, right] = [a.sensor.value, b.sensor.value];
    // Along the wire: what the outlet has stands before what the machine gets of it.
    const order = inOrder(title(left), title(right));
    return order || right.at.localeCompare(left.at);
  }),
);

const bySlot = new Map<number, Circuit>();
const arcsKept = 200;
/** A break shorter than this is no news. */
const missedAfterMs = 5_000;

export const title = (sensor: Sensor): string => sensor.circuit?.circuit.name ?? sensor.name;

/** True where another sensor watches the same circuit, so that a name alone does not tell. */
export function sharesCircuit(sensor: Sensor): boolean {
  const id = sensor.circuit?.id;
  if (id === undefined) return false;
  for (const other of circuits.value.values()) {
    const { value } = other.sensor;
    if (value.id !== sensor.id && value.circuit?.id === id) return true;
  }
  return false;
}

/** Takes a text frame of the feed. */
export function take(message: LiveMessage): void {
  batch(() => apply(message));
}

function apply(message: LiveMessage): void {
  switch (message.kind) {
    case 'hello':
      greet(message);
      break;
    case 'sensor':
      if (isForbidden(message.sensor) && !isForbidden(sensorOf(message.sensor.id)))
        weakWelds.value += 1;
      put(message.sensor);
      break;
    case 'arc-began':
      change(message.sensor, (sensor) => ({
        ...sensor,
        state: 'arc',
        openArc: message.openArc,
      }));
      break;
    case 'arc-goes-on': {
      const circuit = circuits.value.get(message.sensor);
      if (circuit) {
        if (isBroken(message.verdict) && !calledWeak(circuit)) weakWelds.value += 1;
        circuit.soFar.value = { verdict: message.verdict, says: message.says };
        circuit.arc.value = message.openArc.arc;
      }
      change(message.sensor, (sensor) => ({ ...sensor, openArc: message.openArc }));
      break;
    }
    case 'arc-ended':
      arcs.value = [message.summary, ...arcs.value].slice(0, arcsKept);
      if (isBroken(message.summary.verdict) && message.summary.countedBy === null) {
        if (!calledWeak(circuits.value.get(message.sensor))) weakWelds.value += 1;
        weakArc.value = message.summary;
      }
      closeArc(message.sensor, {
        lastArc: message.summary,
        flags: message.flags,
        duty: message.duty,
      });
      break;
    case 'arc-dropped':
      closeArc(message.sensor, {});
      break;
    case 'acknowledged':
      acknowledged(message.summary, message.flags);
      break;
    case 'left-out':
      rowsLeftOut.value += message.frames;
      break;
    case 'beat':
      clockOffsetMs.value = message.nowMs - Date.now();
      break;
    case 'check':
      checkNews.value = message.check;
      break;
    case 'job':
      jobNews.value += 1;
      break;
    case 'sag':
      break;
  }
}

const sensorOf = (id: string) => circuits.value.get(id)?.sensor.value;
/** Must not be plugged in: worth the alarm before anything is welded. */
const isForbidden = (sensor: Sensor | undefined) => sensor?.mismatch?.verdict === 'unsuited';
const calledWeak = (circuit: Circuit | undefined) => isBroken(circuit?.soFar.value?.verdict);

function greet(hello: Extract<LiveMessage, { kind: 'hello' }>): void {
  if (heardMs.value !== null) tellBreak(hello, heardMs.value);
  clockOffsetMs.value = hello.nowMs - Date.now();
  bySlot.clear();
  const still = new Set(hello.sensors.map((sensor) => sensor.id));
  circuits.value = new Map([...circuits.value].filter(([id]) => still.has(id)));
  for (const sensor of hello.sensors) put(sensor);
  arcs.value = hello.arcs;
}

function tellBreak(hello: Extract<LiveMessage, { kind: 'hello' }>, lastHeardMs: number): void {
  const silentMs = Date.now() - lastHeardMs;
  const known = new Set(arcs.value.map((arc) => arc.id));
  const fresh = hello.arcs.filter((arc) => !known.has(arc.id));
  const weak = fresh.filter((arc) => isBroken(arc.verdict));
  broke.value = {
    fromMs: hello.nowMs - silentMs,
    toMs: hello.nowMs,
    moreArcs: fresh.length > 0 && fresh.length === hello.arcs.length && known.size > 0,
  };
  if (weak[0]) {
    weakArc.value = weak[0];
    weakWelds.value += weak.length;
  }
  if (silentMs <= missedAfterMs) return;
  const told = missed.value ?? { seconds: 0, arcs: 0, weak: 0 };
  missed.value = {
    seconds: told.seconds + Math.round(silentMs / 1_000),
    arcs: told.arcs + fresh.length,
    weak: told.weak + weak.length,
  };
}

function put(sensor: Sensor): void {
  const known = circuits.value.get(sensor.id);
  const heard = sensor.state === 'online' || sensor.state === 'arc' ? Date.now() : null;
  if (known && known.recent.pairs === sensor.pairs) {
    // Another arc than the page knows: its picture is fetched anew (last-arcs.ts).
    if (known.sensor.value.lastArc?.id !== sensor.lastArc?.id)
      known.arc.value = sensor.openArc?.arc ?? null;
    known.sensor.value = sensor;
    if (heard !== null) known.heardMs = heard;
    if (!sensor.openArc) known.soFar.value = null;
    bySlot.set(sensor.slot, known);
    return;
  }
  const circuit: Circuit = {
    sensor: signal(sensor),
    reading: signal(sensor.reading),
    soFar: signal(null),
    arc: signal(sensor.openArc?.arc ?? null),
    recent: new RecentRows(sensor.pairs),
    heardMs: sensor.heardAt === null ? null : Date.parse(sensor.heardAt) - clockOffsetMs.value,
  };
  bySlot.set(sensor.slot, circuit);
  circuits.value = new Map(circuits.value).set(sensor.id, circuit);
}

function change(id: string, next: (sensor: Sensor) => Sensor): void {
  const circuit = circuits.value.get(id);
  if (circuit) circuit.sensor.value = next(circuit.sensor.value);
}

function closeArc(id: string, news: Partial<Sensor>): void {
  const circuit = circuits.value.get(id);
  if (circuit) circuit.soFar.value = null;
  change(id, (sensor) => ({
    ...sensor,
    ...news,
    openArc: null,
    state: sensor.state === 'arc' ? 'online' : sensor.state,
  }));
}

/** Somebody has seen an arc: said by the feed, and by the answer to this page's own word. */
export function acknowledged(summary: ArcSummary, flags?: number): void {
  arcs.value = arcs.value.map((arc) => (arc.id === summary.id ? summary : arc));
  change(summary.sensor, (sensor) => ({
    ...sensor,
    flags: flags ?? sensor.flags,
    lastArc: sensor.lastArc?.id === summary.id ? summary : sensor.lastArc,
  }));
}

/** Figures are drawn ten times a second at the most: faster than that nobody reads them. */
const drawEveryMs = 100;
/** Sensors whose newest row is not drawn yet. */
const undrawn = new Map<Circuit, LiveRows>();
let drawnMs = 0;
let drawing: ReturnType<typeof setTimeout> | undefined;

/** Takes a frame of half-cycle rows: each sensor's last row is its reading now. */
export function takeRows(sensors: readonly LiveRows[]): void {
  const nowMs = Date.now();
  for (const rows of sensors) {
    const circuit = bySlot.get(rows.slot);
    if (!circuit || rows.timeMs.length === 0) continue;
    circuit.heardMs = nowMs;
    circuit.recent.push(rows);
    undrawn.set(circuit, rows);
  }
  if (drawing !== undefined) return;
  const waitMs = drawnMs + drawEveryMs - nowMs;
  if (waitMs <= 0) draw();
  else drawing = setTimeout(draw, Math.min(waitMs, drawEveryMs));
}

function draw(): void {
  drawing = undefined;
  drawnMs = Date.now();
  batch(() => {
    for (const [circuit, rows] of undrawn) circuit.reading.value = readingOf(rows);
  });
  undrawn.clear();
}

function readingOf({ timeMs, hertz, volts, amps, watts }: LiveRows): Reading {
  const last = timeMs.length - 1;
  const of = (columns: Float32Array[]) => columns.map((column) => column[last] ?? Number.NaN);
  return {
    at: new Date(timeMs[last] ?? 0).toISOString(),
    hertz: hertz[last] ?? Number.NaN,
    volts: of(volts),
    amps: of(amps),
    watts: of(watts),
  };
}
