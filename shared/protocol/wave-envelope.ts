/**
 * A waveform seen from afar: of each bin of time the lowest and the highest sample, so that a spike
 * of one sample shows at any zoom. It imports nothing and runs in the browser too.
 *
 *   0  u8   3
 *   1  u8   pairs
 *   2  u16  0
 *   4  u32  bins n
 *   8  f64  seconds a bin
 *   16 f64  start of the first bin, s from the arc's start
 *   24 f32  v1 lowest[n], v1 highest[n], i1 lowest[n], i1 highest[n], v2 …; NaN in a hole
 */
export interface WaveEnvelope {
  binS: number;
  startS: number;
  volts: Extremes[];
  amps: Extremes[];
}

/** Lowest and highest of each bin. */
export interface Extremes {
  low: Float32Array;
  high: Float32Array;
}

const envelopeKind = 3;
const headerBytes = 24;

export function encodeEnvelope(envelope: WaveEnvelope): Uint8Array<ArrayBuffer> {
  const pairs = envelope.volts.length;
  const n = envelope.volts[0]?.low.length ?? 0;
  const bytes = new Uint8Array(headerBytes + 16 * n * pairs);
  const head = new DataView(bytes.buffer);
  head.setUint8(0, envelopeKind);
  head.setUint8(1, pairs);
  head.setUint32(4, n, true);
  head.setFloat64(8, envelope.binS, true);
  head.setFloat64(16, envelope.startS, true);
  let at = headerBytes;
  for (let pair = 0; pair < pairs; pair++)
    for (const { low, high } of [envelope.volts[pair]!, envelope.amps[pair]!])
      for (const column of [low, high]) {
        new Float32Array(bytes.buffer, at, n).set(column);
        at += 4 * n;
      }
  return bytes;
}

/** Null when the body is of another kind or length. Columns are views. */
export function decodeEnvelope(body: ArrayBuffer): WaveEnvelope | null {
  if (body.byteLength < headerBytes) return null;
  const head = new DataView(body);
  const pairs = head.getUint8(1);
  const n = head.getUint32(4, true);
  if (head.getUint8(0) !== envelopeKind || pairs < 1 || pairs > 3) return null;
  if (body.byteLength !== headerBytes + 16 * n * pairs) return null;
  let at = headerBytes;
  const column = () => {
    const view = new Float32Array(body, at, n);
    at += 4 * n;
    return view;
  };
  const extremes = (): Extremes => ({ low: column(), high: column() });
  const [volts, amps]: [Extremes[], Extremes[]] = [[], []];
  for (let pair = 0; pair < pairs; pair++) {
    volts.push(extremes());
    amps.push(extremes());
  }
  return { binS: head.getFloat64(8, true), startS: head.getFloat64(16, true), volts, amps };
}
