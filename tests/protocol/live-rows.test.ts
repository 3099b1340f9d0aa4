import { describe, expect, it } from 'vitest';
import {
  decodeRows,
  decodeWaveform,
  encodeRows,
  encodeWaveform,
  joinRows,
} from '../../shared/protocol/live-rows.ts';

const rows = {
  slot: 300,
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

/** One row of one pair: an odd number of floats, so that its part is filled up. */
const single = {
  slot: 4,
  timeMs: Float64Array.of(1_764_000_000_000),
  hertz: Float32Array.of(50),
  volts: [Float32Array.of(230)],
  amps: [Float32Array.of(3)],
  watts: [Float32Array.of(600)],
};
const three = (value: number) => [1, 2, 3].map((pair) => Float32Array.of(pair * value));
const odd = { ...single, volts: three(120), amps: three(2), watts: three(200) };
const joined = () => joinRows(4_000_000_000, [single, rows, odd, single].map(encodeRows));

describe('binary frames', () => {
  it('rows of many sensors come back as they went', () => {
    const sensors = [single, rows, odd, single];
    expect(decodeRows(joined().buffer)).toEqual({ serial: 4_000_000_000, sensors });
    expect(decodeRows(joinRows(1, []).buffer)).toEqual({ serial: 1, sensors: [] });
  });

  it('a waveform comes back as it went', () => {
    expect(decodeWaveform(encodeWaveform(wave).buffer)).toEqual(wave);
  });

  it('another kind, a cut frame and an empty one are null, never a throw', () => {
    const frame = joined().buffer;
    for (let length = 0; length < frame.byteLength; length++)
      expect(decodeRows(frame.slice(0, length))).toBeNull();
    expect(decodeRows(joined().fill(255, 8, 16).buffer)).toBeNull();
    expect(decodeWaveform(frame)).toBeNull();
    expect(decodeRows(encodeWaveform(wave).buffer)).toBeNull();
  });
});
