import { batch, computed, type Signal, signal } from '@preact/signals';
import type { ArcSummary, Reading, Sensor } from '../../../shared/protocol/http.ts';
import type { Arc, Verdict } from '../../../shared/protocol/judgement.ts';
import type { LiveMessage } from '../../../shared/protocol/live.ts';
import type { LiveRows } from '../../../shared/protocol/live-rows.ts';

/** What the page knows of the floor. Readings change often and have a signal each of their own. */
export interface Circuit {
  sensor: Signal<Sensor>;
  reading: Signal<Reading | null>;
  /** While an arc burns: judged so far. */
  soFar: Signal<{ verdict: Verdict; says: string } | null>;
  /** The arc that burns, or the last that this page saw burn. */
  arc: Signal<Arc | null>;
}

export type Link = 'connecting' | 'live' | 'stale' | 'offline';

export const link = signal<Link>('connecting');
/** Epoch ms of the last word from the server. */
export const heardMs = signal<number | null>(null);
export const circuits = signal<ReadonlyMap<string, Circuit>>(new Map());
export const arcs = signal<readonly ArcSummary[]>([]);
/** Frames of rows that this page was too slow for, since it was opened. */
export const rowsLeftOut = signal(0);

export const ordered = computed(() =>
  [...circuits.value.values()].sort((a, b) =>
    title(a.sensor.value).localeCompare(title(b.sensor.value), undefined, { numeric: true }),
  ),
);

const bySlot = new Map<number, Circuit>();
const arcsKept = 200;

export const title = (sensor: Sensor): string => sensor.circuit?.circuit.name ?? sensor.name;

/** Takes a text frame of the feed. */
export function take(message: LiveMessage): void {
  batch(() => apply(message));
}

function apply(message: LiveMessage): void {
  switch (message.kind) {
    case 'hello':
      bySlot.clear();
      circuits.value = new Map();
      for (const sensor of message.sensors) put(sensor);
      arcs.value = message.arcs;
      break;
    case 'sensor':
      put(message.sensor);
      break;
    case 'arc-began':
      change(message.sensor, (sensor) => ({ ...sensor, state: 'arc', openArc: message.openArc }));
      break;
    case 'arc-goes-on': {
      const circuit = circuits.value.get(message.sensor);
      if (circuit) {
        circuit.soFar.value = { verdict: message.verdict, says: message.says };
        circuit.arc.value = message.openArc.arc;
      }
      change(message.sensor, (sensor) => ({ ...sensor, openArc: message.openArc }));
      break;
    }
    case 'arc-ended':
      arcs.value = [message.summary, ...arcs.value].slice(0, arcsKept);
      closeArc(message.sensor, (sensor) => ({
        ...sensor,
        openArc: null,
        lastArc: message.summary,
        flags: message.flags,
        duty: message.duty,
      }));
      break;
    case 'arc-dropped':
      closeArc(message.sensor, (sensor) => ({ ...sensor, openArc: null }));
      break;
    case 'acknowledged':
      arcs.value = arcs.value.map((arc) => (arc.id === message.summary.id ? message.summary : arc));
      change(message.sensor, (sensor) => ({
        ...sensor,
        flags: message.flags,
        lastArc: sensor.lastArc?.id === message.summary.id ? message.summary : sensor.lastArc,
      }));
      break;
    case 'left-out':
      rowsLeftOut.value += message.frames;
      break;
    case 'beat':
    case 'sag':
      break;
  }
}

function put(sensor: Sensor): void {
  const known = circuits.value.get(sensor.id);
  if (known) {
    known.sensor.value = sensor;
    bySlot.set(sensor.slot, known);
    return;
  }
  const circuit: Circuit = {
    sensor: signal(sensor),
    reading: signal(sensor.reading),
    soFar: signal(null),
    arc: signal(sensor.openArc?.arc ?? null),
  };
  bySlot.set(sensor.slot, circuit);
  circuits.value = new Map(circuits.value).set(sensor.id, circuit);
}

function change(id: string, next: (sensor: Sensor) => Sensor): void {
  const circuit = circuits.value.get(id);
  if (circuit) circuit.sensor.value = next(circuit.sensor.value);
}

function closeArc(id: string, next: (sensor: Sensor) => Sensor): void {
  const circuit = circuits.value.get(id);
  if (circuit) circuit.soFar.value = null;
  change(id, next);
}

/** Takes a batch of half-cycle rows: its last row is the reading now. */
export function takeRows(rows: LiveRows): void {
  const circuit = bySlot.get(rows.slot);
  const last = rows.timeMs.length - 1;
  if (!circuit || last < 0) return;
  const of = (columns: Float32Array[]) => columns.map((column) => column[last] ?? Number.NaN);
  circuit.reading.value = {
    at: new Date(rows.timeMs[last] ?? 0).toISOString(),
    hertz: rows.hertz[last] ?? Number.NaN,
    volts: of(rows.volts),
    amps: of(rows.amps),
    watts: of(rows.watts),
  };
}
