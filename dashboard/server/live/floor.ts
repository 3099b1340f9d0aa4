import { heatFound } from '../../../shared/protocol/heat-found.ts';
import type { ArcSummary, Heat, Sensor } from '../../../shared/protocol/http.ts';
import type { Arc, Sag } from '../../../shared/protocol/judgement.ts';
import type { Rows, State } from '../../../shared/protocol/messages.ts';
import { arcWatts } from '../../../shared/rules/coupon-band.ts';
import type { SupplyEvidence } from '../../../shared/rules/facts.ts';
import { entriesOf, type Hanging } from '../../../shared/rules/loops.ts';
import { sensorPlace } from '../../../shared/rules/place.ts';
import type { Seconds, Volts } from '../../../shared/units.ts';
import type { WatchedArc } from '../../../shared/watch/contract.ts';
import { deciding } from '../ingest/deciding.ts';
import type { LiveEvents } from '../ingest/sensor-stream.ts';
import type { ArcRecord, SensorRecord, Store } from '../store/store.ts';
import { storedCircuit, storedPlate } from './check-subject.ts';
import { Checks } from './checks.ts';
import { DutyWindow } from './duty-window.ts';
import { Hub } from './hub.ts';
import { setUpHere } from './job-views.ts';
import { Jobs } from './jobs.ts';
import { mismatchAt } from './mismatch-at.ts';
import { NoLoad } from './no-load.ts';
import type { WeldingAt } from './welding-at.ts';

/** The last time that RFC 3339 can write. */
const lastMs = Date.parse('9999-12-31T23:59:59.999Z');

/** A time that cannot be written is told as the first or the last that can: nothing throws. */
export const rfc3339 = (micros: number): string =>
  new Date(Math.min(Math.max(micros / 1_000 || 0, 0), lastMs)).toISOString();

/** Arcs that a page gets with its first frame. */
const helloArcs = 50;

/** A machine's supply, and between which wires it was measured. */
export interface SupplyAt {
  evidence: SupplyEvidence;
  hangs: Hanging;
}

/** A move of this part of the voltage may be one into another class. */
const classedAnew = 0.002;

interface Place {
  sensor: Sensor;
  duty: DutyWindow;
  /** As the newest arc showed it; null before one, and when it is another supply. */
  supply: SupplyAt | null;
  noLoad: NoLoad;
  /** Volts that the supply's class was last judged by, one a pair; null: by its description. */
  classedBy: readonly Volts[] | null;
}

/** How every sensor stands now, for the pages: kept in step with the stream, told by the hub. */
export class Floor implements LiveEvents {
  readonly hub: Hub;
  readonly checks: Checks;
  readonly jobs: Jobs;
  /** The ingest listens here: a check of something else than hangs on a sensor begins or ends. */
  subjectChanged: (sensor: string) => void = () => {};
  readonly #store: Store;
  readonly #clock: () => number;
  readonly #places = new Map<string, Place>();

  constructor(store: Store, clock: () => number = Date.now) {
    this.#store = store;
    this.#clock = clock;
    const list = () => summaries(store.arcs({ limit: helloArcs }));
    this.hub = new Hub(() => ({ sensors: this.sensors(), arcs: list() }), clock);
    this.checks = new Checks({
      ...{ store, clock, sensor: (id) => this.sensor(id) },
      tell: (check) => this.hub.tell({ kind: 'check', check }),
      subjectChanged: (sensor) => this.subjectChanged(sensor),
    });
    this.jobs = new Jobs({
      ...{ store, clock, sensor: (id) => this.sensor(id) },
      // After the commit that it may be part of: what is shown is what is on disk.
      tell: (job, sensors) => queueMicrotask(() => this.#jobChanged(job, sensors)),
    });
  }

  sensors(): Sensor[] {
    return [...this.#places.values()].map((place) => place.sensor);
  }

  sensor(id: string): Sensor | null {
    return this.#places.get(id)?.sensor ?? null;
  }

  /** A sensor that is known to the store, or that said who it is. */
  about(record: SensorRecord, site: string): void {
    const { about } = record;
    const known = this.#places.get(record.sensor);
    const [lastArc] = this.#store.arcs({ sensor: record.sensor, limit: 1 });
    const sensor: Sensor = {
      ...{ state: 'lost', stateSince: this.#now(), heardAt: null, health: {} },
      ...{ reading: null, openArc: null, duty: null },
      ...known?.sensor,
      id: record.sensor,
      slot: known?.sensor.slot ?? this.#places.size,
      name: about.name,
      site,
      ...{ firmware: about.fw, rateHz: about.rate, pairs: about.pairs },
      ...this.#hung(record),
      lastArc: summaries(lastArc ? [lastArc] : [])[0] ?? null,
      flags: this.#store.flags(record.sensor),
    };
    const duty = known?.duty ?? new DutyWindow();
    if (!known)
      for (const arc of this.#store.arcs({ sensor: record.sensor, limit: 200 }).reverse())
        duty.add(arc.startedUs / 1e6, arc.endedUs / 1e6);
    const place = {
      ...{ sensor, duty, supply: known?.supply ?? null },
      ...{ noLoad: known?.noLoad ?? new NoLoad(), classedBy: null },
    };
    this.#places.set(record.sensor, place);
    this.#classed(place);
    this.#setUpAt(sensor);
    // Where a sensor sits is part of what a coupon passed for.
    this.jobs.assigned(record.sensor);
    this.hub.tell({ kind: 'sensor', sensor });
  }

  /** Circuit or plate changed, in themselves or on a sensor. */
  assigned(records: readonly SensorRecord[]): void {
    for (const record of records) {
      const place = this.#places.get(record.sensor);
      if (!place) continue;
      const { sensor } = place;
      const before = { circuit: sensor.circuit, plate: sensor.plate };
      Object.assign(sensor, this.#hung(record));
      if (!sameSupply(sensor, before)) place.supply = null;
      this.#classed(place);
      this.checks.assigned(sensor);
      this.jobs.assigned(sensor.id);
      this.hub.tell({ kind: 'sensor', sensor });
    }
  }

  state(id: string, state: State | { state: 'lost' }): void {
    const place = this.#places.get(id);
    if (!place) return;
    const { sensor, duty } = place;
    if (state.state !== sensor.state) {
      sensor.state = state.state;
      sensor.stateSince = this.#now();
    }
    if (state.state === 'lost' || state.state === 'offline') sensor.openArc = null;
    if ('health' in state) {
      sensor.heardAt = this.#now();
      sensor.health = state.health;
      sensor.duty = duty.fraction(state.time / 1e6);
    }
    this.hub.tell({ kind: 'sensor', sensor });
  }

  rows(id: string, rows: Rows): void {
    const place = this.#places.get(id);
    if (!place || rows.volts.length !== place.sensor.pairs) return;
    const { sensor } = place;
    const last = rows.n - 1;
    const first = rows.end[0]!;
    const timeMs = rows.end.map((end) => rows.time / 1e3 + ((end - first) * 1e3) / sensor.rateHz);
    sensor.heardAt = this.#now();
    sensor.reading = {
      at: rfc3339(timeMs[last]! * 1e3),
      hertz: rows.hz[last]!,
      volts: rows.volts.map((column) => column[last]!),
      amps: rows.amps.map((column) => column[last]!),
      watts: rows.watts.map((column) => column[last]!),
    };
    const { slot } = sensor;
    const { hz: hertz, volts, amps, watts } = rows;
    this.hub.rows({ slot, timeMs, hertz, volts, amps, watts });
    this.checks.rows(sensor, rows);
    this.#unloaded(place, (rows.end[last]! - first) / sensor.rateHz);
  }

  /** With no arc the voltage says what class of supply this is. */
  #unloaded(place: Place, spanS: Seconds): void {
    const { sensor, noLoad, classedBy } = place;
    if (sensor.openArc) noLoad.clear();
    else noLoad.add(sensor.reading!.volts, spanS);
    const { steady } = noLoad;
    const same = (volts: Volts, pair: number) =>
      Math.abs(volts - classedBy![pair]!) <= classedAnew * volts;
    if (steady === null || (classedBy !== null && steady.every(same))) return;
    const before = sensor.mismatch;
    this.#classed(place);
    if (sensor.mismatch?.verdict !== before?.verdict) this.hub.tell({ kind: 'sensor', sensor });
  }

  #classed(place: Place): void {
    const { sensor, noLoad } = place;
    const volts = noLoad.steady;
    const found = mismatchAt(
      ...([sensor, volts, this.#store.settings.get().hertz] as const),
      place.supply?.hangs ?? null,
    );
    if (found) sensor.mismatch = found;
    else delete sensor.mismatch;
    place.classedBy = volts && [...volts];
  }

  arcBegan(id: string, startedUs: number): void {
    const sensor = this.sensor(id);
    if (!sensor || sensor.openArc) return;
    sensor.openArc = { startedAt: rfc3339(startedUs), arc: null };
    this.hub.tell({ kind: 'arc-began', sensor: id, openArc: sensor.openArc });
  }

  arcGoesOn(id: string, startedUs: number, watched: WatchedArc): void {
    const sensor = this.sensor(id);
    if (!sensor) return;
    const { arc } = watched;
    sensor.openArc = { startedAt: rfc3339(startedUs), arc };
    const { verdict } = arc;
    const { openArc } = sensor;
    this.hub.tell({ kind: 'arc-goes-on', sensor: id, openArc, verdict, says: deciding(arc).says });
    this.checks.arc(id, watched, true);
  }

  arcEnded(id: string, watched: WatchedArc): void {
    this.checks.arc(id, watched, false);
  }

  /** What a check of another circuit showed says nothing of the one that hangs here. */
  supplied(id: string, { supply: evidence, hangs }: Pick<WatchedArc, 'supply' | 'hangs'>): void {
    const place = this.#places.get(id);
    if (place && this.checks.subject(id) === null) place.supply = { evidence, hangs };
  }

  supply(id: string): SupplyAt | null {
    return this.#places.get(id)?.supply ?? null;
  }

  arcDropped(id: string): void {
    const sensor = this.sensor(id);
    if (!sensor?.openArc) return;
    sensor.openArc = null;
    this.hub.tell({ kind: 'arc-dropped', sensor: id });
  }

  /** Arcs that a commit has stored. */
  stored(arcs: readonly ArcRecord[]): void {
    for (const arc of arcs) {
      const place = this.#places.get(arc.sensor);
      if (!place) continue;
      const { sensor, duty } = place;
      const endedS = arc.endedUs / 1e6;
      duty.add(arc.startedUs / 1e6, endedS);
      // The next one may have struck before this one was stored.
      if (sensor.openArc && sensor.openArc.startedAt <= rfc3339(arc.endedUs)) sensor.openArc = null;
      sensor.lastArc = summary(arc);
      sensor.flags = this.#store.flags(arc.sensor);
      sensor.duty = duty.fraction(endedS);
      if (arc.twin !== null) this.#refresh(arc.twin);
      this.hub.tell({
        kind: 'arc-ended',
        sensor: arc.sensor,
        summary: sensor.lastArc,
        flags: sensor.flags,
        duty: sensor.duty,
      });
    }
  }

  /** An arc stored before has found its twin, and may raise a flag no longer. */
  #refresh(id: number): void {
    const arc = this.#store.arc(id);
    const sensor = arc && this.sensor(arc.sensor);
    if (!sensor) return;
    sensor.flags = this.#store.flags(sensor.id);
    if (sensor.lastArc?.id === id) sensor.lastArc = summary(arc);
    this.hub.tell({ kind: 'sensor', sensor });
  }

  acknowledged(arc: ArcRecord): ArcSummary {
    const said = summary(arc);
    const sensor = this.sensor(arc.sensor);
    const flags = this.#store.flags(arc.sensor);
    if (sensor) {
      sensor.flags = flags;
      if (sensor.lastArc?.id === arc.id) sensor.lastArc = said;
    }
    this.hub.tell({ kind: 'acknowledged', sensor: arc.sensor, summary: said, flags });
    return said;
  }

  sag(sensor: string, atUs: number, sag: Sag): void {
    this.hub.tell({ kind: 'sag', sensor, at: rfc3339(atUs), sag });
  }

  weldingAt(sensor: string, startedUs: number): WeldingAt | null {
    return this.jobs.weldingAt(sensor, startedUs);
  }

  #jobChanged(job: number, sensors: readonly string[]): void {
    for (const id of sensors) {
      const sensor = this.sensor(id);
      if (!sensor) continue;
      this.#setUpAt(sensor);
      this.hub.tell({ kind: 'sensor', sensor });
    }
    this.hub.tell({ kind: 'job', job });
  }

  #setUpAt(sensor: Sensor): void {
    const here = setUpHere(this.#store.jobs, sensor.id);
    if (here) sensor.setUp = here;
    else delete sensor.setUp;
  }

  #hung(record: SensorRecord): Pick<Sensor, 'circuit' | 'plate' | 'at'> {
    const { about, plate } = record;
    const circuit = record.circuit === null ? null : storedCircuit(this.#store, record.circuit);
    return {
      at: sensorPlace(about.at, circuit?.circuit ?? null) ?? 'unstated',
      circuit,
      plate: plate === null ? null : storedPlate(this.#store, plate),
    };
  }

  #now(): string {
    return new Date(this.#clock()).toISOString();
  }
}

/** The cord of a sensor at the outlet lies behind it; any other change makes another case. */
function sameSupply(sensor: Sensor, before: Pick<Sensor, 'circuit' | 'plate'>): boolean {
  const key = ({ circuit, plate }: typeof before) => {
    const { cords, ...wires } = circuit?.circuit ?? {};
    const behind = sensor.at === 'machine' ? cords : null;
    return JSON.stringify([circuit?.id, wires, behind, plate?.id, plate?.plate]);
  };
  return key(sensor) === key(before);
}

/** Lines of those arcs that can be told: one that was stored damaged must not hide the others. */
export const summaries = (records: readonly ArcRecord[]): ArcSummary[] =>
  records.flatMap((record) => {
    try {
      return [summary(record)];
    } catch {
      return [];
    }
  });

/** One line of an arc. */
export function summary(record: ArcRecord): ArcSummary {
  const { arc } = record;
  const terminals = terminalsOf(arc);
  const { saying } = deciding(arc);
  return {
    id: record.id,
    sensor: record.sensor,
    startedAt: rfc3339(record.startedUs),
    endedAt: rfc3339(record.endedUs),
    durationS: arc.durationS,
    verdict: arc.verdict,
    says: record.says,
    ...(saying ? { saying } : {}),
    minVolts200ms: leastVolts(arc),
    meanAmps: Math.max(0, ...arc.channels.map((channel) => channel.meanAmps)),
    ...(terminals ? { terminals } : {}),
    circuitName: record.circuit?.name ?? null,
    plateName: record.plate?.name ?? null,
    twin: record.twin,
    countedBy: record.countedBy,
    acknowledged: record.acknowledged && {
      by: record.acknowledged.by,
      at: rfc3339(record.acknowledged.atUs),
    },
    ...(record.weld ? { weld: record.weld, heat: heatOf(arc) } : {}),
  };
}

/** What the coupon's band made of it; no word where no band was there, or the arc too short. */
const heatOf = (arc: Arc): Heat => heatFound(arc.findings) ?? { watts: arcWatts(arc), word: null };

/** Between the machine's terminals, where it was measured; else of the worst pair. */
function leastVolts(arc: Arc): number {
  const all = entriesOf(arc);
  const seen = arc.loops?.map((loop) => all[loop]!) ?? arc.channels;
  return seen.length === 0 ? 0 : Math.min(...seen.map((each) => each.minVolts200ms));
}

function terminalsOf(arc: Arc): ArcSummary['terminals'] {
  const { loops } = arc;
  if (loops === undefined) return undefined;
  const volts = entriesOf(arc).map(({ idleVolts, meanVolts }) => idleVolts ?? meanVolts);
  return { loops, volts };
}
