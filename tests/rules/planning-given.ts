import type { Machine, Need, PlannedCircuit } from '../../shared/protocol/planning.ts';

/** A 240 V pulse machine, an outlet that feeds it, and work for it, to be bent by each test. */
export const machine = (change: Partial<Machine> = {}): Machine => ({
  name: 'pulse 220',
  phases: 1,
  supply: [{ U1: 240, I1max: 30, I1eff: 19 }],
  ratings: [{ X: 0.4, I2: 220, U2: 25 }],
  pulse: true,
  wireInches: [0.03, 0.035, 0.047],
  price: 6_000,
  processes: ['mig-steel', 'mig-aluminium', 'mig-braze'],
  ...change,
});

export const circuit = (change: Partial<PlannedCircuit> = {}): PlannedCircuit => ({
  name: 'bay 2',
  volts: 240,
  breakerAmps: 50,
  receptacleAmps: 50,
  dedicated: true,
  supply: { openVolts: 241, ohmsR: 0.13, ohmsX: 0.05 },
  ...change,
});

export const need = (change: Partial<Need> = {}): Need => ({
  name: 'rails',
  process: 'mig-aluminium',
  wireInches: 0.047,
  pulse: true,
  minAmps: 180,
  ...change,
});
