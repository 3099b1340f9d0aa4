/**
 * Binary frames: columns as little-endian typed arrays at their natural alignment, so that a page
 * views them in place. Both ends of this file run in the browser too; it imports nothing.
 *
 *   rows frame                        waveform body
 *   0  u8   1                         0  u8   2
 *   1  u8   0                         1  u8   pairs
 *   2  u16  sensors                   2  u16  0
 *   4  u32  serial                    4  u32  samples n
 *   8  one part a sensor              8  f32  samples per second
 *                                     12 u32  0
 *   part of a rows frame              16 f64  start, s from the arc's start
 *   0  u8   pairs                     24 f32  v1[n], i1[n], v2[n] …; NaN where samples were lost
 *   1  u8   0
 *   2  u16  slot (Sensor.slot)
 *   4  u32  rows n
 *   8  f64  time[n], epoch ms
 *      f32  hertz[n]
 *      f32  volts[pairs][n]
 *      f32  amps[pairs][n]
 *      f32  watts[pairs][n]
 *      zeros up to a multiple of eight bytes
 */
export interface LiveRows {
  slot: number;
  /** End of each row's one-cycle window, epoch milliseconds. */
  timeMs: Float64Array;
  hertz: Float32Array;
  /** One column a pair; a lost row is NaN. */
  volts: Float32Array[];
  amps: Float32Array[];
  watts: Float32Array[];
}

/** What one frame brings: the rows of some sensors, each of its own number of rows. */
export interface RowsFrame {
  serial: number;
  sensors: LiveRows[];
}

export interface Waveform {
  rateHz: number;
  /** Seconds from the arc's start to the first sample; negative in the pre-trigger. */
  startS: number;
  volts: Float32Array[];
  amps: Float32Array[];
}

const rowsKind = 1;
const waveformKind = 2;
const headerBytes = 8;
const partHeaderBytes = 8;
const waveformHeaderBytes = 24;
const mostSensors = 65_535;

const partBytes = (pairs: number, n: number) =>
  partHeaderBytes + 8 * Math.ceil((8 * n + 4 * n * (1 + 3 * pairs)) / 8);

/** One sensor's part of a rows frame. */
export function encodeRows(rows: LiveRows): Uint8Array<ArrayBuffer> {
  const n = rows.timeMs.length;
  const pairs = rows.volts.length;
  const bytes = new Uint8Array(partBytes(pairs, n));
  const head = new DataView(bytes.buffer);
  head.setUint8(0, pairs);
  head.setUint16(2, rows.slot, true);
  head.setUint32(4, n, true);
  new Float64Array(bytes.buffer, partHeaderBytes, n).set(rows.timeMs);
  let at = partHeaderBytes + 8 * n;
  for (const column of [rows.hertz, ...rows.volts, ...rows.amps, ...rows.watts]) {
    new Float32Array(bytes.buffer, at, n).set(column);
    at += 4 * n;
  }
  return bytes;
}

/** Parts of `encodeRows` as one frame; `RangeError` past 65,535 of them. */
export function joinRows(
  serial: number,
  parts: readonly Uint8Array<ArrayBuffer>[],
): Uint8Array<ArrayBuffer> {
  if (parts.length > mostSensors) throw new RangeError(`${parts.length} parts in a rows frame`);
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, headerBytes));
  const head = new DataView(bytes.buffer);
  head.setUint8(0, rowsKind);
  head.setUint16(2, parts.length, true);
  head.setUint32(4, serial, true);
  let at = headerBytes;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** Null when the frame is of another kind, or of another length than it says. Columns are views. */
export function decodeRows(frame: ArrayBuffer): RowsFrame | null {
  if (frame.byteLength < headerBytes) return null;
  const head = new DataView(frame);
  if (head.getUint8(0) !== rowsKind) return null;
  const sensors: LiveRows[] = [];
  let at = headerBytes;
  for (let left = head.getUint16(2, true); left > 0; left--) {
    if (at + partHeaderBytes > frame.byteLength) return null;
    const [pairs, n] = [head.getUint8(at), head.getUint32(at + 4, true)];
    const bytes = partBytes(pairs, n);
    if (pairs < 1 || pairs > 3 || at + bytes > frame.byteLength) return null;
    sensors.push(partAt(frame, at, pairs, n));
    at += bytes;
  }
  return at === frame.byteLength ? { serial: head.getUint32(4, true), sensors } : null;
}

function partAt(frame: ArrayBuffer, from: number, pairs: number, n: number): LiveRows {
  let at = from + partHeaderBytes + 8 * n;
  const column = () => {
    const view = new Float32Array(frame, at, n);
    at += 4 * n;
    return view;
  };
  const columns = () => Array.from({ length: pairs }, column);
  return {
    slot: new DataView(frame).getUint16(from + 2, true),
    timeMs: new Float64Array(frame, from + partHeaderBytes, n),
    hertz: column(),
    volts: columns(),
    amps: columns(),
    watts: columns(),
  };
}

export function encodeWaveform(wave: Waveform): Uint8Array<ArrayBuffer> {
  const n = wave.volts[0]?.length ?? 0;
  const pairs = wave.volts.length;
  const bytes = new Uint8Array(waveformHeaderBytes + 8 * n * pairs);
  const head = new DataView(bytes.buffer);
  head.setUint8(0, waveformKind);
  head.setUint8(1, pairs);
  head.setUint32(4, n, true);
  head.setFloat32(8, wave.rateHz, true);
  head.setFloat64(16, wave.startS, true);
  for (let pair = 0; pair < pairs; pair++) {
    const at = waveformHeaderBytes + 8 * n * pair;
    new Float32Array(bytes.buffer, at, n).set(wave.volts[pair]!);
    new Float32Array(bytes.buffer, at + 4 * n, n).set(wave.amps[pair]!);
  }
  return bytes;
}

/** Null when the body is of another kind or length. Columns are views. */
export function decodeWaveform(body: ArrayBuffer): Waveform | null {
  if (body.byteLength < waveformHeaderBytes) return null;
  const head = new DataView(body);
  const pairs = head.getUint8(1);
  const n = head.getUint32(4, true);
  if (head.getUint8(0) !== waveformKind || pairs < 1 || pairs > 3) return null;
  if (body.byteLength !== waveformHeaderBytes + 8 * n * pairs) return null;
  const wave: Waveform = {
    rateHz: head.getFloat32(8, true),
    startS: head.getFloat64(16, true),
    volts: [],
    amps: [],
  };
  for (let pair = 0; pair < pairs; pair++) {
    const at = waveformHeaderBytes + 8 * n * pair;
    wave.volts.push(new Float32Array(body, at, n));
    wave.amps.push(new Float32Array(body, at + 4 * n, n));
  }
  return wave;
}
