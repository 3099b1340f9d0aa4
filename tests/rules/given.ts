import type { ArcChannel } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import type {
  ArcEvidence,
  OtherStep,
  SensorChannel,
  SensorPair,
  Setting,
  SupplyEvidence,
  SupplyView,
} from '../../shared/rules/facts.ts';
import type { Evidence } from '../../shared/rules/judge.ts';

/** A 240 V machine of 30 A, and evidence of a good supply, to be bent by each test. */
export const plate: Plate = {
  name: 'bay welder',
  phases: 1,
  hertz: [50, 60],
  supply: [{ U1: 240, I1max: 30, I1eff: 15 }],
  ratings: [{ X: 0.3, I2: 180, U2: 23 }],
};

export function setting(change: Partial<Setting> = {}): Setting {
  return {
    plate,
    rated: plate.supply[0]!,
    circuit: null,
    pairs: 1,
    loops: [0],
    ampsPerLine: 1,
    service: null,
    nominalVolts: 240,
    nominalHertz: 60,
    accuracy: { volts: 0.005, halfCycleVolts: 0.01, amps: 0.01 },
    work: null,
    coupon: null,
    ...change,
  };
}

export function view(change: Partial<SupplyView> = {}): SupplyView {
  return {
    openVolts: 240,
    openVoltsSd: 0.1,
    ohmsR: 0.1,
    ohmsX: 0.03,
    varianceR: 0.003 ** 2,
    varianceX: 0.003 ** 2,
    covarianceRX: 0,
    coverage: 2,
    largestStepAmps: 25,
    steps: 4,
    lagRadians: 0.2,
    fundamentalShare: 1,
    ...change,
  };
}

export const supply = (change: Partial<SupplyView> = {}): SupplyEvidence => ({
  pairs: [view(change)],
  loaded: [3],
  behaviour: 'constant-power',
});

export function channel(change: Partial<ArcChannel> = {}): ArcChannel {
  return {
    idleVolts: 240,
    meanVolts: 236,
    minVolts200ms: 235,
    minVoltsHalfCycle: 233,
    meanAmps: 24,
    maxAmps200ms: 26,
    meanWatts: 5_400,
    powerFactor: 0.95,
    thdVoltsPercent: 2,
    thdAmpsPercent: 10,
    ...change,
  };
}

export function arc(change: Partial<ArcChannel> = {}, lostFraction = 0): ArcEvidence {
  const channels = [channel(change)];
  return {
    startS: 1,
    endS: 4,
    lostFraction,
    channels,
    loops: channels,
    strike: channels.map((each) => ({
      minVoltsHalfCycle: each.minVoltsHalfCycle,
      amps: each.maxAmps200ms,
      watts: each.meanWatts,
    })),
  };
}

export function evidence(change: Partial<Evidence> = {}): Evidence {
  return {
    supply: supply(),
    openVolts: 240,
    sags: { count: 0, worst: null, strikes: { count: 0, worst: null } },
    duty: { highestFraction: 0.2, effectiveAmps: 12, atS: [0, 600] },
    others: { count: 0, worst: null, searched: true },
    phases: null,
    waveform: { hertzLow: 59.98, hertzHigh: 60.02, thdVoltsPercent: 2, crest: 1.41 },
    sensor: { pairs: [sensorPair()], same: null },
    ...change,
  };
}

/** A step of 240 V that own current cannot have made. */
export const otherStep = (of: Partial<OtherStep>): OtherStep => ({
  ...{ atS: 2, volts: -4, halfWidthVolts: 0.3, surgeVolts: of.volts ?? -4, stays: true },
  ...{ openVolts: 240, ohms: 0.33 },
  ...of,
});

const quietChannel: SensorChannel = {
  clipped: 0,
  heldSeconds: 0,
  stillSeconds: 0,
  stillAt: 0,
  offsetShare: 0,
};

/** One pair of a sensor that nothing speaks against, its current 11 degrees behind its voltage. */
export function sensorPair(
  change: Partial<Omit<SensorPair, 'volts' | 'amps'>> & {
    volts?: Partial<SensorChannel>;
    amps?: Partial<SensorChannel>;
  } = {},
): SensorPair {
  return {
    watts: 5_000,
    vars: 1_000,
    lopsided: 0.01,
    deadSeconds: 0,
    ...change,
    volts: { ...quietChannel, ...change.volts },
    amps: { ...quietChannel, ...change.amps },
  };
}
