import type { ArcSummary, OpenArc, Sensor } from './http.ts';
import type { Check } from './http-check.ts';
import type { Sag, Verdict } from './judgement.ts';

/**
 * The live feed: a WebSocket at `livePath`. Small things come as JSON text frames (`LiveMessage`),
 * half-cycle rows of all sensors as binary frames (live-rows.ts). The page sends nothing.
 *
 * `serial` counts the frames of one start of the server (`hello.server`), one number for all pages,
 * so a frame is encoded once however many look on. The first frame is `hello` with the serial
 * reached so far; each later one adds one. A jump means that this page was slow and lost rows:
 * only rows are ever left out, never a state, an arc or a verdict, and `left-out` says how many.
 * After a reconnect compare `hello.server` and `hello.serial` with the last seen ones: the snapshot
 * sets the state right, and `/api/v1/sensors/:id/history` fills the hole in the strips.
 *
 * A `beat` comes every `beatMs`; a page that has heard nothing for `staleMs` is stale and says so.
 */
export const livePath = '/api/v1/live';
export const liveVersion = 2;
export const beatMs = 1_000;
/** Three beats: one lost to a pause of the collector and one to the radio are no reason to cry. */
export const staleMs = 3_500;

export type LiveMessage =
  /** First frame of a connection: the whole floor, and the newest arcs of all sensors. */
  | {
      kind: 'hello';
      serial: number;
      version: number;
      /** Differs after each start of the server; serials count from there. */
      server: string;
      /** Epoch milliseconds at the server; the page takes its own clock's offset from it. */
      nowMs: number;
      sensors: Sensor[];
      arcs: ArcSummary[];
    }
  /** Nothing else to say, or something: the server lives. */
  | { kind: 'beat'; serial: number; nowMs: number }
  /** A sensor appeared or changed (state, name, health, circuit, plate, flags): all of it anew. */
  | { kind: 'sensor'; serial: number; sensor: Sensor }
  /** The arc struck: the sensor's own word or the server's first sight, whichever came first. */
  | { kind: 'arc-began'; serial: number; sensor: string; openArc: OpenArc }
  /** Judged so far, about five times a second; `says` is the worst finding's sentence. */
  | {
      kind: 'arc-goes-on';
      serial: number;
      sensor: string;
      openArc: OpenArc;
      verdict: Verdict;
      says: string;
    }
  /** Judged for good and in the store. `flags` and `duty` are the sensor's new ones. */
  | {
      kind: 'arc-ended';
      serial: number;
      sensor: string;
      summary: ArcSummary;
      flags: number;
      duty: number | null;
    }
  /** What looked like an arc was none: too short, or its samples never came. */
  | { kind: 'arc-dropped'; serial: number; sensor: string }
  /** Somebody acknowledged an underpowered arc. */
  | { kind: 'acknowledged'; serial: number; sensor: string; summary: ArcSummary; flags: number }
  | { kind: 'sag'; serial: number; sensor: string; at: string; sag: Sag }
  /** An outlet check moved on: at most once a second, five times while a bead burns. */
  | { kind: 'check'; serial: number; check: Check }
  /** A job sheet, a set-up or a coupon of it changed: who shows it asks anew. */
  | { kind: 'job'; serial: number; job: number }
  /** To this page alone, with the serial of the frame before it: rows it was too slow for. */
  | { kind: 'left-out'; serial: number; frames: number };
