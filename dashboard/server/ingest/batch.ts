import type { Batch } from '../store/store.ts';

/** What of a batch can be at fault; what is put aside already is not. */
export type RecordKey = Exclude<keyof Batch, 'quarantined'>;

export const emptyBatch = (): Batch => ({
  blocks: [],
  rows: [],
  seconds: [],
  arcs: [],
  sags: [],
  supplies: [],
  otherLoads: [],
  cursors: [],
  quarantined: [],
});

/** One record of a kind that any store that works takes; it is rehearsed and never kept. */
export function soundBatch(key: RecordKey, sensor: string): Batch {
  const place = { sensor, boot: 0, start: 0, startedUs: 0 };
  const sample = { sensor, boot: 0, sample: 0, atUs: 0 };
  const one = () => Float32Array.of(1);
  const sound: Omit<Batch, 'quarantined'> = {
    blocks: [
      {
        ...{ sensor, boot: 0, seq: 0, first: 0, time: 0, n: 1, lost: 0, flags: 0 },
        data: new Int16Array(2),
      },
    ],
    rows: [
      {
        ...{ sensor, boot: 0 },
        batch: {
          ...{ end: Float64Array.of(1), hertz: one() },
          ...{ volts: [one()], amps: [one()], watts: [one()] },
        },
      },
    ],
    seconds: [
      {
        ...{ sensor, timeMs: 0, hertz: 1 },
        ...{ voltsMin: [1], voltsMax: [1], ampsMin: [1], ampsMax: [1] },
      },
    ],
    arcs: [
      {
        ...{ ...place, end: 1, endedUs: 1, arc: noArc, says: '', rateHz: 1, pairs: 1 },
        ...{ plate: null, circuit: null, plateVersion: null, circuitVersion: null },
        ...{ supply: null, hung: null },
      },
    ],
    sags: [{ ...place, sag: noSag }],
    supplies: [{ ...sample, wiring: '', pair: 1, supply: noSupply }],
    otherLoads: [{ ...sample, event: noLoad }],
    cursors: [{ sensor, kept: 0, settledBoot: 0, settledSample: 0 }],
  };
  return { ...emptyBatch(), [key]: sound[key] };
}

const noArc = {
  ...{ startS: 0, endS: 1, durationS: 1, lostFraction: 0, verdict: 'unproven' as const },
  ...{ findings: [], channels: [] },
};
const noSag = {
  ...{ startS: 0, durationS: 1, residualVolts: 1, depthPercent: 1, category: null, channel: 1 },
};
const noSupply = {
  ...{ openVolts: 1, ohmsR: 1, ohmsX: 1, steps: 1 },
  ohmsR95: [1, 1] as [number, number],
  ohmsX95: [1, 1] as [number, number],
};
const noLoad = {
  ...{ atS: 0, channel: 1, volts: 1, halfWidthVolts: 1, amps: null, halfWidthAmps: null },
  duringArc: false,
};
