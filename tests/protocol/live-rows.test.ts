import { describe, expect, it } from 'vitest';
import {
  decodeRows,
  decodeWaveform,
  encodeRows,
  encodeWaveform,
  setRowsSerial,
} from '../../shared/protocol/live-rows.ts';

const rows = {
  slot: 300,
  serial: 7,
  timeMs: Float64Array.of(1_764_000_000_000.5, 1_764_000_000_008.75),
  hertz: Float32Array.of(60, 59.5),
  volts: [Float32Array.of(120, 118.5), Float32Array.of(121, 122)],
  amps: [Float32Array.of(1, 20), Float32Array.of(0, 0.5)],
  watts: [Float32Array.of(100, 2000), Float32Array.of(0, Number.NaN)],
};
const wave = {
  rateHz: 10_240,
  startS: -0.1,
  volts: [Float32Array.of(1, 2, Number.NaN)],
  amps: [Float32Array.of(3, 4, Number.NaN)],
};

describe('binary frames', () => {
  it('rows come back as they went, with a serial given late', () => {
    const frame = encodeRows(rows);
    setRowsSerial(frame, 4_000_000_000);
    expect(decodeRows(frame.buffer)).toEqual({ ...rows, serial: 4_000_000_000 });
  });

  it('a waveform comes back as it went', () => {
    expect(decodeWaveform(encodeWaveform(wave).buffer)).toEqual(wave);
  });

  it('another kind, a cut frame and an empty one are null, never a throw', () => {
    const frame = encodeRows(rows).buffer;
    for (let length = 0; length < frame.byteLength; length++)
      expect(decodeRows(frame.slice(0, length))).toBeNull();
    expect(decodeWaveform(frame)).toBeNull();
    expect(decodeRows(encodeWaveform(wave).buffer)).toBeNull();
  });
});
