import {
  type ArcEdge,
  decodeMessage,
  encodeMessage,
  type Rows,
  type State,
  type Wave,
} from '../../shared/protocol/messages.ts';
import { type Cause, Firmware, type Hal } from '../../simulator/firmware/firmware.ts';
import type { Adc, AdcAbout, AdcBlock, Clock, Flash } from '../../simulator/hal.ts';
import { FramePace } from '../../simulator/ports/frame-pace.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';
import { MemoryLink } from '../../simulator/ports/memory-link.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';

export const rateHz = 10_240;
export const about: AdcAbout = { pairs: 1, rateHz, bits: 16, scale: [0.015625, 0.00390625] };

/** A load on mains whose current is high between the given seconds: small, exact, of our own. */
export class LoadAdc implements Adc {
  readonly about: AdcAbout;
  readonly #pace: FramePace;
  readonly #arcs: readonly (readonly [number, number])[];
  #noise = 12_345;

  constructor(clock: Clock, arcs: readonly (readonly [number, number])[], of = about) {
    this.about = of;
    this.#pace = new FramePace(clock, of.rateHz);
    this.#arcs = arcs;
  }

  read(into: Int32Array, block: AdcBlock): void {
    const width = this.about.scale.length;
    this.#pace.take(block, Math.floor(into.length / width));
    for (let frame = 0; frame < block.frames; frame++) {
      const t = (block.first + frame) / this.about.rateHz;
      const on = this.#arcs.some(([from, to]) => t >= from && t < to);
      for (let channel = 0; channel < width; channel++) {
        const sine = Math.sin(2 * Math.PI * (60 * t - (channel >> 1) / 3)) * Math.SQRT2;
        this.#noise = (Math.imul(this.#noise, 1_664_525) + 1_013_904_223) | 0;
        const noise = (this.#noise >> 16) / 32_768;
        const value = channel % 2 === 0 ? 120 * sine : (on ? 18 + 3 * noise : 0.4) * sine;
        into[frame * width + channel] = Math.round(value / this.about.scale[channel]! + noise * 2);
      }
    }
  }
}

/** What a server of this protocol does, without its disk: stores once, keeps, tells apart. */
export class ServerModel {
  /** Payloads by seq; a second one of another content is a fault of the sensor. */
  readonly stored = new Map<number, Uint8Array>();
  readonly waves: Wave[] = [];
  readonly edges: ArcEdge[] = [];
  readonly rows: Rows[] = [];
  readonly states: State[] = [];
  readonly answers: unknown[] = [];
  readonly faults: string[] = [];
  /** Last seq up to which all is stored; null before the first. */
  kept: number | null = null;
  repeats = 0;
  keeps = true;
  readonly #link: MemoryLink;

  constructor(link: MemoryLink) {
    this.#link = link;
  }

  tick(): void {
    const before = this.kept;
    const repeats = this.repeats;
    for (let letter = this.#link.take(); letter; letter = this.#link.take())
      this.#take(letter.kind, letter.bytes);
    if (this.keeps && this.kept !== null && (this.kept !== before || this.repeats !== repeats))
      this.tellKeep(this.kept);
  }

  tellKeep(seq: number): void {
    this.#link.tell('keep', encodeMessage('keep', { v: 1, seq }));
  }

  /** The server was restored from a copy that ends at `seq`. */
  restore(seq: number): void {
    for (const held of this.stored.keys()) if (held > seq) this.stored.delete(held);
    this.waves.splice(0, Infinity, ...this.waves.filter((wave) => wave.seq <= seq));
    this.edges.splice(0, Infinity, ...this.edges.filter((edge) => edge.seq <= seq));
    this.kept = seq;
    this.tellKeep(seq);
  }

  #take(kind: Parameters<typeof decodeMessage>[0], bytes: Uint8Array): void {
    const decoded = decodeMessage(kind, bytes);
    if ('fault' in decoded) {
      this.faults.push(`${kind}: ${decoded.says}`);
      return;
    }
    const { message } = decoded;
    if (kind === 'rows') this.rows.push(message as Rows);
    else if (kind === 'answer') this.answers.push((message as { answer: unknown }).answer);
    else if (kind === 'state') this.#state(message as State);
    else if (kind === 'wave' || kind === 'arc')
      this.#record(kind, bytes, message as Wave & ArcEdge);
  }

  /** What the sensor no longer has need not be waited for. */
  #state(state: State): void {
    this.states.push(state);
    this.kept = Math.max(this.kept ?? 0, state.oldest - 1);
    this.#advance();
  }

  #advance(): void {
    while (this.kept !== null && this.stored.has(this.kept + 1)) this.kept++;
  }

  #record(kind: 'wave' | 'arc', bytes: Uint8Array, message: Wave & ArcEdge): void {
    const { seq } = message;
    const before = this.stored.get(seq);
    if (before) {
      this.repeats++;
      if (Buffer.compare(before, bytes) !== 0) this.faults.push(`seq ${seq} was used twice`);
      return;
    }
    this.stored.set(seq, bytes);
    if (kind === 'wave') this.waves.push(message);
    else this.edges.push(message);
    this.kept ??= seq - 1;
    this.#advance();
  }
}

export interface RigOptions {
  arcs?: readonly (readonly [number, number])[];
  about?: AdcAbout;
  flash?: Flash;
  /** Wraps a port. */
  adc?: (adc: Adc, clock: VirtualClock) => Adc;
  clock?: (clock: VirtualClock) => Clock;
  link?: (link: MemoryLink, clock: VirtualClock) => Hal['link'];
  wrapFlash?: (flash: Flash, clock: VirtualClock) => Flash;
}

/** A board on a bench: all on a virtual clock, ticked forty times a second. */
export class Rig {
  readonly clock = new VirtualClock();
  readonly link = new MemoryLink();
  readonly server = new ServerModel(this.link);
  readonly flash: Flash;
  readonly hal: Hal;
  firmware: Firmware;
  restarts = 0;

  constructor(options: RigOptions = {}) {
    this.flash = options.flash ?? new MemoryFlash(24);
    const adc = new LoadAdc(this.clock, options.arcs ?? [], options.about);
    this.hal = {
      adc: options.adc?.(adc, this.clock) ?? adc,
      clock: options.clock?.(this.clock) ?? this.clock,
      link: options.link?.(this.link, this.clock) ?? this.link,
      flash: options.wrapFlash?.(this.flash, this.clock) ?? this.flash,
    };
    this.firmware = this.boot('power');
    this.link.connect();
  }

  boot(cause: Cause): Firmware {
    const identity = { site: 'test-site', name: 'bay-1', at: 'outlet' as const };
    this.firmware = new Firmware(this.hal, identity, cause);
    return this.firmware;
  }

  /** Runs on for so many seconds of the clock. */
  run(seconds: number): void {
    for (let n = 0; n < Math.round(seconds * 40); n++) this.tick();
  }

  tick(): void {
    this.clock.advance(25_000);
    if (this.firmware.tick() === 'restart') {
      this.restarts++;
      this.boot('watchdog');
    }
    this.server.tick();
  }
}

/** Frames that the waves hold, as [first, end) stretches in order, joined where they touch. */
export function stretches(waves: readonly Wave[]): [number, number][] {
  const sorted = [...waves].sort((a, b) => a.boot - b.boot || a.first - b.first);
  const joined: [number, number][] = [];
  for (const { first, n } of sorted) {
    const last = joined.at(-1);
    if (last && last[1] === first) last[1] = first + n;
    else joined.push([first, first + n]);
  }
  return joined;
}
