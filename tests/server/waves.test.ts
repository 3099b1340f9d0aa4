import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Block } from '../../dashboard/server/store/store.ts';
import type { ArcSpectrum } from '../../shared/protocol/http-spectrum.ts';
import { decodeWaveform } from '../../shared/protocol/live-rows.ts';
import { decodeEnvelope } from '../../shared/protocol/wave-envelope.ts';
import { type Built, buildServer } from './built.ts';
import { about, batchOf, block, newArc } from './given.ts';

const rate = 10_240;
/** Counts are millivolts and milliamperes: what is measured is the signal, not its steps. */
const fine = { ...about(), scale: [0.001, 0.001], bits: 32 };
const arcFrom = 12_288;
const arcFrames = 30_720;

/** 120 V with 5 % of the third and 2 % of the 49th; 20 A with 30 % of the fifth inside the arc. */
const sample = (at: number, channel: 0 | 1): number => {
  const angle = (2 * Math.PI * 60 * at) / rate;
  const sine = (order: number, phase = 0) => Math.SQRT2 * Math.sin(order * angle + phase);
  if (channel === 0) return 120 * (sine(1) + 0.05 * sine(3, 1) + 0.02 * sine(49, 2));
  const burns = at >= arcFrom && at < arcFrom + arcFrames;
  return (burns ? 20 : 0.2) * (sine(1, -0.4) + 0.3 * sine(5, 0.7));
};

function blocks(from: number, count: number): Block[] {
  return Array.from({ length: count }, (_, each) => {
    const first = from + each * 1_024;
    const data = Int32Array.from({ length: 2_048 }, (_, at) =>
      Math.round(1e3 * sample(first + (at >> 1), (at & 1) as 0 | 1)),
    );
    return block(each + 1, first, { data });
  });
}

let built: Built;
beforeEach(async () => {
  built = await buildServer(fine);
});
afterEach(() => built.close());

const store = (kept: Block[]) => {
  const arc = { ...newArc(arcFrom), end: arcFrom + arcFrames };
  built.store.commit(batchOf({ arcs: [arc], blocks: kept }));
};
const body = async (query: string) => {
  const { rawPayload } = await built.app.inject(`/api/v1/arcs/1/waveform?${query}`);
  return Uint8Array.from(rawPayload).buffer;
};
const spectrum = async (query = '') => {
  const answer = await built.app.inject(`/api/v1/arcs/1/spectrum${query}`);
  return { status: answer.statusCode, is: answer.json() as ArcSpectrum };
};

describe('a waveform', () => {
  it('from afar keeps each bin’s extremes, a spike of one sample too', async () => {
    const kept = blocks(8_192, 40);
    kept[10]!.data[2 * 500] = 999_000;
    store(kept);
    const envelope = decodeEnvelope(await body('fromS=-0.3&toS=3&points=100'))!;
    const [volts] = envelope.volts;
    expect(volts!.high.length).toBeLessThanOrEqual(100);
    expect(Math.max(...volts!.high)).toBeCloseTo(999, 3);
    const spikeS = (8_192 + 10 * 1_024 + 500 - arcFrom) / rate;
    const bin = Math.floor((spikeS - envelope.startS) / envelope.binS);
    expect(volts!.high[bin]).toBeCloseTo(999, 3);
    // Every bin of a whole cycle or more reaches from peak to peak.
    const quiet = volts!.low.filter((_, at) => at !== bin);
    expect(Math.max(...quiet)).toBeLessThan(-160);
    expect(envelope.amps[0]!.high.at(-8)).toBeGreaterThan(25);
  });

  it('near is the single samples, whatever number of points was asked', async () => {
    store(blocks(8_192, 40));
    const wave = decodeWaveform(await body('fromS=1&toS=1.01&points=100'))!;
    expect(wave.volts[0]!.length).toBe(102);
    expect(wave.volts[0]![7]).toBeCloseTo(sample(arcFrom + rate + 7, 0), 2);
  });

  it('shows a hole as a hole', async () => {
    store([...blocks(8_192, 10), ...blocks(8_192 + 20 * 1_024, 20)]);
    const { volts } = decodeEnvelope(await body('fromS=0&toS=3&points=200'))!;
    const holes = [...volts[0]!.low].filter(Number.isNaN).length;
    expect(holes).toBeGreaterThan(60);
    expect(holes).toBeLessThan(70);
  });
});

describe('a spectrum', () => {
  it('of one window tells each order of volts and amperes to the 50th', async () => {
    store(blocks(8_192, 40));
    const { is } = await spectrum('?atS=1.5');
    expect(is).toMatchObject({ windows: 1 });
    expect(is.toS - is.fromS).toBeCloseTo(0.2, 3);
    expect(is.fromS).toBeLessThanOrEqual(1.5);
    expect(is.toS).toBeGreaterThan(1.5);
    expect(is.hertz).toBeCloseTo(60, 3);
    const [{ volts, amps }] = is.pairs as [ArcSpectrum['pairs'][number]];
    expect(volts.groups).toHaveLength(51);
    for (const [order, part] of [
      [1, 1],
      [3, 0.05],
      [49, 0.02],
      [7, 0],
    ] as const) {
      expect(volts.groups[order]).toBeCloseTo(120 * part, 1);
      expect(volts.subgroups[order]).toBeCloseTo(120 * part, 1);
    }
    expect(volts.thdPercent).toBeCloseTo(5, 1);
    expect(amps.groups[5]).toBeCloseTo(6, 2);
    expect(amps.thdPercent).toBeCloseTo(30, 1);
  });

  it('of the whole arc is the mean of the windows wholly in it', async () => {
    store(blocks(8_192, 40));
    const { is } = await spectrum();
    expect(is.windows).toBeGreaterThanOrEqual(13);
    expect(is.fromS).toBeGreaterThanOrEqual(0);
    expect(is.toS).toBeLessThanOrEqual(3);
    expect(is.pairs[0]!.amps.groups[1]).toBeCloseTo(20, 1);
  });

  it('of a place past the recording is told as such: nothing was given up', async () => {
    store(blocks(8_192, 40));
    const answer = await built.app.inject('/api/v1/arcs/1/spectrum?atS=90');
    expect(answer.statusCode).toBe(404);
    expect(answer.json()).toMatchObject({ detail: expect.stringContaining('no whole window') });
  });

  it('is not there where the waveform is not', async () => {
    store([]);
    expect((await spectrum()).status).toBe(404);
    expect((await spectrum('?atS=x')).status).toBe(400);
  });
});
