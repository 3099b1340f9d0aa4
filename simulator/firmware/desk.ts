import type { Link, Received } from '../hal.ts';
import { CborReader } from './cbor-reader.ts';
import { CborWriter } from './cbor-writer.ts';
import { type Health, healthNames } from './health.ts';
import { maxTalkBytes } from './limits.ts';
import { type Notebook, type SettingName, settingNames } from './notebook.ts';
import type { Timekeeper } from './timekeeper.ts';

const questions = ['get', 'set', 'self-test', 'time'] as const;
type Question = (typeof questions)[number];

/** What the self-test looks at, in the order it is told. */
export interface SelfTest {
  adc: boolean;
  flash: boolean;
  clock: boolean;
  channels: boolean;
}

/**
 * Answers the server's questions: `get` settings and health, `set` settings, `self-test`, and
 * `time`, by which the server tells its own. A setting out of bounds changes nothing at all.
 */
export class Desk {
  oddMessages = 0;
  private readonly link: Link;
  private readonly notebook: Notebook;
  private readonly time: Timekeeper;
  private readonly health: Health;
  private readonly reader = new CborReader();
  private readonly writer = new CborWriter(maxTalkBytes);
  private readonly selfTest: () => SelfTest;
  private readonly changed: () => void;
  // What the question held; NaN where it did not.
  private id = Number.NaN;
  private question: Question | null = null;
  private told = Number.NaN;
  private unknown = false;
  private readonly wanted: Record<SettingName, number>;

  constructor(
    link: Link,
    notebook: Notebook,
    time: Timekeeper,
    health: Health,
    selfTest: () => SelfTest,
    changed: () => void,
  ) {
    this.link = link;
    this.notebook = notebook;
    this.time = time;
    this.health = health;
    this.selfTest = selfTest;
    this.changed = changed;
    this.wanted = { ...notebook.settings };
  }

  /** Seq of a keep; NaN where the message is no keep. */
  readKeep(message: Received): number {
    const { reader } = this;
    reader.begin(message.bytes, message.length);
    let version = Number.NaN;
    let seq = Number.NaN;
    for (let left = reader.map(); left > 0; left--) {
      reader.text();
      if (reader.is('v')) version = reader.number();
      else if (reader.is('seq')) seq = reader.number();
      else reader.skip();
    }
    if (!reader.failed && version === 1 && Number.isSafeInteger(seq) && seq >= 0) return seq;
    this.oddMessages++;
    return Number.NaN;
  }

  asked(message: Received, now: number): void {
    if (!this.read(message)) {
      this.oddMessages++;
      return;
    }
    const { writer } = this;
    writer.reset();
    writer.map(3);
    writer.entry('v', 1);
    writer.entry('id', this.id);
    writer.text('answer');
    if (this.question === 'get') this.get();
    else if (this.question === 'set') this.set();
    else if (this.question === 'self-test') this.test();
    else if (this.question === 'time') this.setTime(now);
    else this.refuse('ask is get, set, self-test or time');
    this.link.send('answer', writer.bytes, writer.length);
  }

  private read(message: Received): boolean {
    const { reader } = this;
    this.id = Number.NaN;
    this.question = null;
    this.told = Number.NaN;
    this.unknown = false;
    for (const name of settingNames) this.wanted[name] = Number.NaN;
    reader.begin(message.bytes, message.length);
    for (let left = reader.map(); left > 0; left--) {
      reader.text();
      if (reader.is('id')) this.id = reader.number();
      else if (reader.is('time')) this.told = reader.number();
      else if (reader.is('settings')) this.readSettings();
      else if (reader.is('ask')) {
        reader.text();
        for (const question of questions) if (reader.is(question)) this.question = question;
      } else reader.skip();
    }
    return !reader.failed && Number.isSafeInteger(this.id) && this.id >= 0;
  }

  private readSettings(): void {
    const { reader } = this;
    for (let left = reader.map(); left > 0; left--) {
      reader.text();
      let found: SettingName | null = null;
      for (const name of settingNames) if (reader.is(name)) found = name;
      const value = reader.number();
      if (found) this.wanted[found] = value;
      else this.unknown = true;
    }
  }

  private get(): void {
    this.ok(2);
    this.settings();
    this.writer.text('health');
    writeHealth(this.writer, this.health);
  }

  private set(): void {
    const { notebook, wanted } = this;
    const objection = this.objection();
    if (objection) {
      this.refuse(objection);
      return;
    }
    for (const name of settingNames)
      if (!Number.isNaN(wanted[name])) notebook.settings[name] = wanted[name];
    this.changed();
    if (!notebook.write()) {
      this.refuse('flash would not keep it: set until power-off only');
      return;
    }
    this.ok(1);
    this.settings();
  }

  private objection(): string | null {
    if (this.unknown) return 'no such setting';
    for (const name of settingNames) {
      const value = this.wanted[name];
      if (!Number.isNaN(value) && !this.notebook.allows(name, value))
        return `${name} is out of bounds`;
    }
    return null;
  }

  private test(): void {
    const result = this.selfTest();
    this.ok(4);
    for (const name of ['adc', 'flash', 'clock', 'channels'] as const) {
      this.writer.text(name);
      this.writer.bool(result[name]);
    }
  }

  private setTime(now: number): void {
    if (!Number.isSafeInteger(this.told) || this.told < 0) {
      this.refuse('time must be microseconds since 1970');
      return;
    }
    this.time.tell(now, this.told);
    this.ok(2);
    this.writer.text('offsetMicros');
    this.writer.float64(this.time.correctionMicros);
    this.writer.text('driftPpm');
    this.writer.float64(this.time.driftPpm);
  }

  private settings(): void {
    this.writer.text('settings');
    this.writer.map(settingNames.length);
    for (const name of settingNames) {
      this.writer.text(name);
      this.writer.float64(this.notebook.settings[name]);
    }
  }

  private ok(entries: number): void {
    this.writer.map(1 + entries);
    this.writer.text('ok');
    this.writer.bool(true);
  }

  private refuse(says: string): void {
    this.writer.map(2);
    this.writer.text('ok');
    this.writer.bool(false);
    this.writer.text('error');
    this.writer.text(says);
  }
}

/** Health as a map of numbers: whole where they count, float64 where they measure. */
export function writeHealth(writer: CborWriter, health: Health): void {
  writer.map(healthNames.length);
  for (const name of healthNames) {
    writer.text(name);
    if (name === 'driftPpm' || name === 'clockOffsetMicros') writer.float64(health[name]);
    else writer.int(health[name]);
  }
}
