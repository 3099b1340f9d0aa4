/**
 * Invented machines, plates and supplies that the built-in scenarios are put together from. Plain
 * data, read by the same `parseScenario` as a user's file.
 */

/** 120 V machine for panels: capacitor-input inverter. */
export const tern = {
  plate: {
    name: 'Tern 100',
    phases: 1,
    hertz: [50, 60],
    supply: [{ U1: 120, I1max: 27, I1eff: 12.5 }],
    ratings: [
      { X: 0.2, I2: 90, U2: 18.5 },
      { X: 0.6, I2: 52, U2: 16.6 },
    ],
    wireInches: [0.023, 0.03],
  },
  machine: {
    kind: 'capacitor-inverter',
    volts: 120,
    farads: 0.0022,
    ohms: 0.09,
    henries: 100e-6,
    efficiency: 0.84,
    maxAmps: 90,
    idleWatts: 28,
  },
};

/** 240 V pulse machine with power-factor correction. */
export const gannet = {
  plate: {
    name: 'Gannet 220 Pulse',
    phases: 1,
    hertz: [50, 60],
    supply: [{ U1: 240, I1max: 27.5, I1eff: 17.5 }],
    ratings: [
      { X: 0.4, I2: 220, U2: 25 },
      { X: 1, I2: 140, U2: 21 },
    ],
    pulse: true,
    wireInches: [0.023, 0.03, 0.035, 0.047],
  },
  machine: {
    kind: 'pfc-inverter',
    volts: 240,
    supplyAmps: 32,
    efficiency: 0.86,
    maxAmps: 220,
    idleWatts: 40,
  },
};

/** 240 V machine with capacitor input: peaky current. */
export const skua = {
  plate: {
    name: 'Skua 180',
    phases: 1,
    hertz: [50, 60],
    supply: [{ U1: 240, I1max: 33, I1eff: 18 }],
    ratings: [
      { X: 0.3, I2: 180, U2: 23 },
      { X: 0.6, I2: 125, U2: 20.25 },
    ],
    wireInches: [0.023, 0.03, 0.035],
  },
  machine: {
    kind: 'capacitor-inverter',
    volts: 240,
    farads: 0.0015,
    ohms: 0.1,
    henries: 300e-6,
    efficiency: 0.82,
    maxAmps: 180,
    idleWatts: 35,
  },
};

/** 240 V transformer machine with taps. */
export const puffin = {
  plate: {
    name: 'Puffin 170 T',
    phases: 1,
    hertz: [60],
    supply: [{ U1: 240, I1max: 25, I1eff: 13 }],
    ratings: [
      { X: 0.25, I2: 170, U2: 22.5 },
      { X: 0.6, I2: 110, U2: 19.5 },
    ],
    wireInches: [0.023, 0.03, 0.035],
  },
  machine: {
    kind: 'transformer-rectifier',
    volts: 240,
    tapVolts: 27,
    maxAmps: 170,
  },
};

/** 208 V three-phase bench machine. */
export const fulmar = {
  plate: {
    name: 'Fulmar 270 3~',
    phases: 3,
    hertz: [50, 60],
    supply: [{ U1: 208, I1max: 31.5, I1eff: 20 }],
    ratings: [
      { X: 0.4, I2: 270, U2: 27.5 },
      { X: 1, I2: 170, U2: 22.5 },
    ],
    pulse: true,
    wireInches: [0.03, 0.035, 0.047],
  },
  machine: {
    kind: 'three-phase-rectifier',
    volts: 208,
    farads: 0.0015,
    henries: 0.0012,
    ohms: 0.08,
    efficiency: 0.87,
    maxAmps: 270,
    idleWatts: 45,
  },
};

const background = [
  { order: 3, percent: 0.9, degrees: 20 },
  { order: 5, percent: 1.6, degrees: 170 },
  { order: 7, percent: 0.8, degrees: -60 },
  { order: 11, percent: 0.3, degrees: 90 },
];

/** Pole transformer and service of a small shop, seen over both legs. */
export const utility240 = {
  kind: 'utility',
  ohmsR: 0.01,
  ohmsX: 0.012,
  transformer: { kva: 50, percentZ: 2 },
  service: { awg: '1/0', metal: 'aluminium', feet: 80 },
  volts: 242,
  harmonics: background,
};

/** The same transformer from one leg to the neutral. */
export const utility120 = {
  ...utility240,
  ohmsR: 0.012,
  ohmsX: 0.012,
  transformer: { kva: 25, percentZ: 2 },
  volts: 121.5,
};

/** 208Y/120 from a bank of 75 kVA. */
export const utility208 = {
  kind: 'utility',
  ohmsR: 0.004,
  ohmsX: 0.006,
  transformer: { kva: 75, percentZ: 3 },
  service: { awg: '3/0', feet: 120 },
  volts: 209,
  harmonics: background.filter(({ order }) => order % 3 !== 0),
};

/** Petrol set of 7 kW, its wave as such sets make it. */
export const generator = {
  kind: 'generator',
  watts: 7000,
  ohmsR: 0.22,
  ohmsX: 0.45,
  volts: 243,
  harmonics: [
    { order: 3, percent: 4, degrees: 0 },
    { order: 5, percent: 3, degrees: 180 },
    { order: 7, percent: 1.5, degrees: 0 },
    { order: 13, percent: 0.8, degrees: 0 },
  ],
};
