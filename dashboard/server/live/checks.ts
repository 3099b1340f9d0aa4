import type { Sensor } from '../../../shared/protocol/http.ts';
import type { Check, KeptCheck } from '../../../shared/protocol/http-check.ts';
import type { Rows } from '../../../shared/protocol/messages.ts';
import type {
  CheckAbout,
  CheckChoice,
  CheckResult,
  CheckStaleness,
} from '../../../shared/protocol/outlet-check.ts';
import type { Setting } from '../../../shared/rules/facts.ts';
import type { Hanging } from '../../../shared/rules/loops.ts';
import {
  beginCheck,
  isOver,
  nextCheck,
  resumeCheck,
  stopCheck,
} from '../../../shared/rules/outlet-check.ts';
import { stalenessOf } from '../../../shared/rules/outlet-check-stale.ts';
import { type OutletCheck, openVoltsOf } from '../../../shared/rules/outlet-check-state.ts';
import { tellCheck } from '../../../shared/rules/outlet-check-tell.ts';
import { type Said, say } from '../../../shared/rules/say.ts';
import type { WatchedArc } from '../../../shared/watch/contract.ts';
import { limits } from '../limits.ts';
import type { CheckRecord, CheckSubject, RunningCheck, Store } from '../store/store.ts';
import { asSubject, hangsSo, stoodThen, unsavedOf } from './check-subject.ts';
import { settingOf } from './outlet-setting.ts';
import { readingsOf } from './readings.ts';

/** What the checks ask of the floor. */
export interface ChecksSetup {
  store: Store;
  sensor: (id: string) => Sensor | null;
  tell: (check: Check) => void;
  /** What a sensor's arcs are to be judged by is another from now on: see `subject`. */
  subjectChanged: (sensor: string) => void;
  clock: () => number;
}

interface Running extends RunningCheck {
  id: number;
  told: string;
}

/**
 * Outlet checks, fed by what their sensors tell. One runs at a sensor at the most; it lives in
 * the store too while it runs, so that a restart goes on with it.
 */
export class Checks {
  readonly #setup: ChecksSetup;
  readonly #running = new Map<string, Running>();

  constructor(setup: ChecksSetup) {
    this.#setup = setup;
    // A check that an older program began knows no loops: it is stopped.
    for (const { id, sensor, running } of setup.store.runningChecks())
      if (sensor && running?.check.setting.loops)
        this.#running.set(sensor, { ...running, check: resumeCheck(running.check), id, told: '' });
  }

  /** A new check of what a person says stands there; one that runs at the sensor is stopped. */
  begin(sensor: Sensor, subject: CheckSubject, who: Omit<CheckAbout, 'date' | 'of'>): Check {
    this.#stop(sensor.id, say('stoppedByAnother'));
    const { store, clock } = this.#setup;
    const of = { circuit: subject.circuit.id, plate: subject.plate.id };
    const about = { date: new Date(clock()).toISOString(), ...who, of };
    const id = store.addCheck(sensor.id, about);
    const volts = sensor.reading?.volts ?? null;
    const check = beginCheck(about, this.#setting(asSubject(sensor, subject), volts));
    const running = {
      ...{ id, check, settled: volts !== null, told: '', subject },
      stood: stoodThen(store, sensor, subject),
      apart: !hangsSo(sensor, subject),
    };
    this.#running.set(sensor.id, running);
    if (running.apart) this.#setup.subjectChanged(sensor.id);
    return this.#tell(sensor.id, running);
  }

  /** What arcs at a sensor are judged by while a check of something else runs there; else null. */
  subject(sensor: string): CheckSubject | null {
    const running = this.#running.get(sensor);
    return (running?.apart && running.subject) || null;
  }

  /** Null where there is no such check. One that is over stays as it is. */
  choose(id: number, choice: CheckChoice): Check | null {
    const at = this.#at(id);
    if (at === null) return this.view(id);
    const [sensor, running] = at;
    const before = running.check;
    const check = nextCheck(before, { kind: 'choice', atS: this.#nowS(), choice });
    // First on disk, then said: a result that the store refused is judged again by the next try.
    if (check.result !== null && before.result === null)
      this.#setup.store.judgeCheck(id, check.result);
    running.check = check;
    return this.#tell(sensor, running);
  }

  view(id: number): Check | null {
    const at = this.#at(id);
    if (at !== null) {
      const [sensor, running] = at;
      running.check = nextCheck(running.check, { kind: 'time', atS: this.#nowS() });
      this.#release(sensor, running);
      return this.#seen(id, sensor, running.check);
    }
    const record = this.#setup.store.check(id);
    return record && this.#stored(record);
  }

  /** Judged ones, newest first, each against what hangs on its sensor now. */
  kept(sensor: string | undefined): KeptCheck[] {
    return this.#setup.store.checks({ sensor, limit: limits.checksList }).flatMap((record) => {
      const { id, result } = record;
      if (result === null) return [];
      const { date, person, place, machine, circuit, cords, verdict } = result;
      const recording = result.recording ?? null;
      const staleness = this.#staleness(record)!;
      const words = { date, person, place, recording, machine, circuit, cords, verdict, staleness };
      return [{ id, sensor: record.sensor, ...words }];
    });
  }

  rows(sensor: Sensor, rows: Rows): void {
    const running = this.#running.get(sensor.id);
    if (!running || isOver(running.check)) return;
    if (!running.settled && sensor.reading) {
      const setting = this.#setting(this.#of(sensor, running), sensor.reading.volts);
      running.check = { ...running.check, setting };
      running.settled = true;
    }
    const atS = this.#nowS();
    for (const reading of readingsOf(rows, sensor.rateHz))
      running.check = nextCheck(running.check, { kind: 'reading', atS, ...reading });
    const telling = JSON.stringify(tellCheck(running.check));
    if (telling !== running.told) this.#tell(sensor.id, running);
  }

  arc(sensor: string, { arc, supply, hangs }: WatchedArc, burning: boolean): void {
    const running = this.#running.get(sensor);
    if (!running || isOver(running.check)) return;
    const of = this.#of(this.#setup.sensor(sensor), running);
    running.check = { ...running.check, setting: this.#setting(of, null, hangs) };
    const event = { kind: 'arc', atS: this.#nowS(), arc, supply, burning } as const;
    running.check = nextCheck(running.check, event);
    this.#tell(sensor, running);
  }

  /** What it is of, or what hangs on the sensor, was changed: its check ends. */
  assigned(sensor: Sensor): void {
    const running = this.#running.get(sensor.id);
    if (!running?.subject || running.stood === undefined) return;
    if (stoodThen(this.#setup.store, sensor, running.subject) !== running.stood)
      this.#stop(sensor.id, say('stoppedByChange'));
  }

  #stop(sensor: string, why: Said): void {
    const running = this.#running.get(sensor);
    if (!running || isOver(running.check)) return;
    running.check = stopCheck(running.check, why);
    this.#tell(sensor, running);
  }

  /** At its end arcs are judged by what hangs on the sensor again. */
  #release(sensor: string, running: Running): void {
    if (!running.apart || !isOver(running.check)) return;
    running.apart = false;
    this.#setup.subjectChanged(sensor);
  }

  #at(id: number): [string, Running] | null {
    return [...this.#running].find(([, running]) => running.id === id) ?? null;
  }

  #tell(sensor: string, running: Running): Check {
    const seen = this.#seen(running.id, sensor, running.check);
    running.told = JSON.stringify(seen.telling);
    this.#save(running);
    this.#release(sensor, running);
    this.#setup.tell(seen);
    return seen;
  }

  /** A bead that burns is told five times a second and would be taken anew: it is not written. */
  #save({ id, told: _, ...running }: Running): void {
    const { check } = running;
    if (check.bead?.burning && !isOver(check)) return;
    this.#setup.store.saveCheck(id, isOver(check) ? null : running);
  }

  #seen(id: number, sensor: string | null, check: OutletCheck): Check {
    const { about, setting, bead, result } = check;
    const { plate, circuit } = setting;
    return {
      ...{ id, sensor, about, plate, circuit, result },
      openVolts: openVoltsOf(check) ?? result?.noLoadVolts ?? result?.idleVolts ?? null,
      bead: bead?.arc ?? null,
      telling: tellCheck(check),
      staleness: result && this.#staleness({ sensor, result }),
      unsaved: result && this.#unsaved(sensor, about, result),
    };
  }

  #unsaved(sensor: string | null, about: CheckAbout, result: CheckResult) {
    const hung = sensor === null ? null : this.#setup.sensor(sensor);
    return unsavedOf(this.#setup.store, about, result, hung);
  }

  /** Out of the store: judged once, or stopped. */
  #stored(record: CheckRecord): Check {
    const { id, sensor, about, result } = record;
    const setting = this.#setting(sensor === null ? null : this.#setup.sensor(sensor), null);
    const begun = beginCheck(about, setting);
    const over = result ? { ...begun, step: 'judged' as const, result } : stopCheck(begun);
    const seen = this.#seen(id, sensor, over);
    if (result === null) return seen;
    // What hangs there now may be another machine, or another circuit.
    const plate = setting.plate?.name === result.machine ? setting.plate : null;
    const circuit = setting.circuit?.name === result.circuit ? setting.circuit : null;
    return { ...seen, plate, circuit };
  }

  #staleness({ sensor, result }: Pick<CheckRecord, 'sensor' | 'result'>): CheckStaleness | null {
    if (result === null) return null;
    if (sensor === null) return this.#recordedStaleness(result);
    const hung = this.#setup.sensor(sensor);
    return stalenessOf(result, {
      date: new Date(this.#setup.clock()).toISOString(),
      // Nobody has said yet where the next vehicle stands.
      place: result.place,
      machine: hung?.plate?.plate.name ?? null,
      circuit: hung?.circuit?.circuit.name ?? null,
      cords: hung?.circuit?.circuit.cords ?? [],
    });
  }

  /** No sensor says what hangs there now: the circuit as it is described today stands in. */
  #recordedStaleness(result: CheckResult): CheckStaleness {
    const described = this.#setup.store.circuits
      .list()
      .find(({ value }) => value.name === result.circuit)?.value;
    return stalenessOf(result, {
      date: new Date(this.#setup.clock()).toISOString(),
      ...{ place: result.place, machine: result.machine },
      circuit: described?.name ?? null,
      cords: described?.cords ?? [],
    });
  }

  /** The sensor as the person says it hangs. */
  #of(sensor: Sensor | null, { subject }: Running): Sensor | null {
    return sensor && subject ? asSubject(sensor, subject) : sensor;
  }

  #setting(
    sensor: Sensor | null,
    volts: readonly number[] | null,
    hangs: Hanging | null = null,
  ): Setting {
    return settingOf(sensor, volts, this.#setup.store.settings.get().hertz, hangs);
  }

  #nowS(): number {
    return this.#setup.clock() / 1_000;
  }
}
