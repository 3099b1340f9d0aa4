/**
 * Binary frames: columns as little-endian typed arrays at their natural alignment, so that a page
 * views them in place. Both ends of this file run in the browser too; it imports nothing.
 *
 *   rows frame                        waveform body
 *   0  u8   1                         0  u8   2
 *   1  u8   pairs                     1  u8   pairs
 *   2  u16  slot (Sensor.slot)        2  u16  0
 *   4  u32  rows n                    4  u32  samples n
 *   8  u32  serial                    8  f32  samples per second
 *   12 u32  0                         12 u32  0
 *   16 f64  time[n], epoch ms         16 f64  start, s from the arc's start
 *      f32  hertz[n]                  24 f32  v1[n], i1[n], v2[n] …; NaN where samples were lost
 *      f32  volts[pairs][n]
 *      f32  amps[pairs][n]
 *      f32  watts[pairs][n]
 */
export interface LiveRows {
  slot: number;
  serial: number;
  /** End of each row's one-cycle window, epoch milliseconds. */
  timeMs: Float64Array;
  hertz: Float32Array;
  /** One column a pair; a lost row is NaN. */
  volts: Float32Array[];
  amps: Float32Array[];
  watts: Float32Array[];
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
const rowsHeaderBytes = 16;
const waveformHeaderBytes = 24;

export function encodeRows(rows: LiveRows): Uint8Array<ArrayBuffer> {
  const n = rows.timeMs.length;
  const pairs = rows.volts.length;
  const bytes = new Uint8Array(rowsHeaderBytes + 8 * n + 4 * n * (1 + 3 * pairs));
  const head = new DataView(bytes.buffer);
  head.setUint8(0, rowsKind);
  head.setUint8(1, pairs);
  head.setUint16(2, rows.slot, true);
  head.setUint32(4, n, true);
  head.setUint32(8, rows.serial, true);
  new Float64Array(bytes.buffer, rowsHeaderBytes, n).set(rows.timeMs);
  let at = rowsHeaderBytes + 8 * n;
  for (const column of [rows.hertz, ...rows.volts, ...rows.amps, ...rows.watts]) {
    new Float32Array(bytes.buffer, at, n).set(column);
    at += 4 * n;
  }
  return bytes;
}

/** The serial is written apart from the rest, so that a frame is built once and numbered late. */
export function setRowsSerial(frame: Uint8Array<ArrayBuffer>, serial: number): void {
  new DataView(frame.buffer, frame.byteOffset).setUint32(8, serial, true);
}

/** Null when the frame is of another kind or too short for what it says. Columns are views. */
export function decodeRows(frame: ArrayBuffer): LiveRows | null {
  if (frame.byteLength < rowsHeaderBytes) return null;
  const head = new DataView(frame);
  const pairs = head.getUint8(1);
  const n = head.getUint32(4, true);
  if (head.getUint8(0) !== rowsKind || pairs < 1 || pairs > 3) return null;
  if (frame.byteLength !== rowsHeaderBytes + 8 * n + 4 * n * (1 + 3 * pairs)) return null;
  let at = rowsHeaderBytes + 8 * n;
  const column = () => {
    const view = new Float32Array(frame, at, n);
    at += 4 * n;
    return view;
  };
  const columns = () => Array.from({ length: pairs }, column);
  return {
    slot: head.getUint16(2, true),
    serial: head.getUint32(8, true),
    timeMs: new Float64Array(frame, rowsHeaderBytes, n),
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
