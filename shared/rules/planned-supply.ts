import type { Circuit } from '../protocol/circuit.ts';
import type { MeasuredSupply, PlannedCircuit } from '../protocol/planning.ts';
import type { Ohms, Volts } from '../units.ts';
import type { Setting, SupplyEvidence, SupplyView } from './facts.ts';
import { commonPractice } from './limits.ts';
import { type Hanging, wiresInLoop } from './loops.ts';
import { type Said, say } from './say.ts';
import { lengthMetres, runOhms } from './wire.ts';
import { voltsPerPair } from './wiring.ts';
import { isEuropean } from './wiring-code.ts';

/**
 * What is taken for a supply that nobody measured, from the panel upstream. Half-widths are of the
 * 95 % interval, parts of the figure.
 */
export const assumed = {
  /** Current of a short circuit at the panel: a typical estimate for 25 to 50 kVA at 120/240 V. */
  panelAmps: { value: 3_000, half: 1, source: commonPractice },
  /** Half of IEC TR 60725's 0.4 + j0.25 Ω, which nine in ten supplies in Europe are under. */
  europe: { ohmsR: 0.2, ohmsX: 0.125, half: 1, source: 'IEC TR 60725; half of it: our choice' },
  /** Resistance over reactance, as in the same report. */
  resistanceToReactance: 1.6,
  /** Utilities mostly keep well inside the ±5 % of ANSI C84.1, range A. */
  openVolts: { half: 0.025, source: commonPractice },
  /** Branch wire between a cold start and its 75 °C. */
  celsius: { lo: 25, taken: 50, hi: 75, source: commonPractice },
  /** Singles in a conduit: NEC chapter 9, table 9, 0.048 to 0.068 Ω/kft, from memory. */
  branchOhmsXPerMetre: 0.05 / 304.8,
  /** Of a supply that was measured and typed in without its interval, part of |Z|. */
  measuredHalf: 0.1,
  /** Class S of IEC 61000-4-30: 0.5 % of the declared voltage. */
  sensorVolts: 0.005,
  /** Displacement of a rectifier's fundamental, 0.95 to 0.99 (from memory); the worse end. */
  lagRadians: Math.acos(0.95),
} as const;

/** The supply of a planned circuit for a machine, with what the rules ask about it. */
export interface PlannedSupply {
  from: PlannedRowSupply;
  setting: Pick<Setting, 'circuit' | 'pairs' | 'accuracy' | keyof Hanging>;
  evidence: SupplyEvidence;
  /** Between the machine's terminals; null where only described. */
  openVolts: Volts | null;
}
type PlannedRowSupply = 'measured' | 'described' | 'unknown';

/** `three` is of the machine: one of one phase takes two wires of a three-phase circuit. */
export function plannedSupply(planned: PlannedCircuit, three: boolean): PlannedSupply {
  const { supply, ...described } = planned;
  // A circuit that does not say its phases has one.
  const circuit: Circuit = { ...described, phases: described.phases ?? 1 };
  return supply === undefined
    ? describedSupply(circuit, three)
    : measuredSupply(circuit, supply, three);
}

/** Measured on one pair: between two wires, on a leg of a split phase, or phase to neutral. */
function measuredSupply(circuit: Circuit, measured: MeasuredSupply, three: boolean): PlannedSupply {
  const threePhase = circuit.phases === 3;
  const factor = voltsPerPair(threePhase ? 3 : 2, measured.openVolts, [circuit.volts]);
  // Legs and phases are alike; what a machine sees between two wires is the loop of both.
  const loop = factor === 1 ? 1 : 2;
  const between = { volts: measured.openVolts * factor, ohms: loop };
  const hangs = hangingOn(three && threePhase);
  const each = wiresInLoop(hangs) / 2;
  const view = viewOf(measured, between.volts, between.ohms * each);
  return {
    from: 'measured',
    setting: { circuit, pairs: 1, ...hangs, accuracy: accuracyOf(assumed.sensorVolts) },
    evidence: { pairs: [view], behaviour: 'unknown' },
    openVolts: between.volts,
  };
}

/** Three lines that are alike are one loop's worth of evidence; or two wires. */
const hangingOn = (threePhase: boolean): Hanging => ({
  loops: [0],
  ampsPerLine: threePhase ? Math.sqrt(3) : 1,
  service: null,
});

/** A typed-in estimate as the rules take one; `scale` turns its ohms into those of a loop. */
export function viewOf(measured: MeasuredSupply, openVolts: Volts, scale = 1): SupplyView {
  const { ohmsR, ohmsX, ohmsR95, ohmsX95 } = measured;
  const half = assumed.measuredHalf * Math.hypot(ohmsR, ohmsX);
  const spread = (interval: readonly [number, number] | undefined) =>
    (scale * (interval ? (interval[1] - interval[0]) / 2 : half)) / 2;
  return {
    ...plainView(openVolts, scale * ohmsR, scale * ohmsX),
    varianceR: spread(ohmsR95) ** 2,
    varianceX: spread(ohmsX95) ** 2,
  };
}

function describedSupply(circuit: Circuit, three: boolean): PlannedSupply {
  const hangs = hangingOn(three && circuit.phases === 3);
  const view = describedView(circuit, circuit.volts, wiresInLoop(hangs));
  return {
    from: view === null ? 'unknown' : 'described',
    setting: {
      // Whatever the sensor's place will be, this supply ends at the outlet: cords are added.
      circuit: { ...circuit, sensorAt: 'outlet' },
      pairs: 1,
      ...hangs,
      accuracy: accuracyOf(0),
    },
    evidence: { pairs: [view], behaviour: 'unknown' },
    openVolts: null,
  };
}

/** Null where the wire's length is not known: nothing follows from a breaker alone. */
function describedView(circuit: Circuit, openVolts: Volts, conductors: number): SupplyView | null {
  const { branch } = circuit;
  if (!branch || (branch.feet === undefined && branch.metres === undefined)) return null;
  const upstream = upstreamOhms(circuit, conductors);
  const at = (celsius: number) => conductors * runOhms(branch, 'fixed', celsius);
  const { lo, taken, hi } = assumed.celsius;
  const branchX = conductors * lengthMetres(branch) * assumed.branchOhmsXPerMetre;
  return {
    ...plainView(openVolts, upstream.ohmsR + at(taken), upstream.ohmsX + branchX),
    openVoltsSd: (assumed.openVolts.half * openVolts) / 2,
    varianceR: (upstream.halfR / 2) ** 2 + ((at(hi) - at(lo)) / 4) ** 2,
    varianceX: (upstream.halfX / 2) ** 2,
    covarianceRX: (upstream.halfR / 2) * (upstream.halfX / 2),
  };
}

/** From the panel upstream, as a loop of two wires or one phase of three. */
function upstreamOhms(circuit: Circuit, conductors: number) {
  const { ohmsR, ohmsX, half } = isEuropean(circuit)
    ? europeanOhms(circuit)
    : americanOhms(circuit);
  const scale = conductors / 2;
  return {
    ohmsR: scale * ohmsR,
    ohmsX: scale * ohmsX,
    halfR: half * scale * ohmsR,
    halfX: half * scale * ohmsX,
  };
}

/** The report's loop is phase and neutral, 0.24 + 0.16 Ω; two phases make 1.2 of it. */
function europeanOhms({ phases }: Circuit) {
  const { ohmsR, ohmsX, half } = assumed.europe;
  const scale = phases === 3 ? 1.2 : 1;
  return { ohmsR: scale * ohmsR, ohmsX: scale * ohmsX, half };
}

function americanOhms({ volts }: Circuit) {
  const { value, half } = assumed.panelAmps;
  const ohms: Ohms = volts / value;
  const slope = Math.hypot(1, assumed.resistanceToReactance);
  return { ohmsR: (ohms * assumed.resistanceToReactance) / slope, ohmsX: ohms / slope, half };
}

function plainView(openVolts: Volts, ohmsR: Ohms, ohmsX: Ohms): SupplyView {
  return {
    openVolts,
    openVoltsSd: 0,
    ohmsR,
    ohmsX,
    varianceR: 0,
    varianceX: 0,
    covarianceRX: 0,
    coverage: 2,
    largestStepAmps: null,
    steps: null,
    lagRadians: assumed.lagRadians,
    fundamentalShare: 1,
  };
}

const accuracyOf = (volts: number): Setting['accuracy'] => ({
  volts,
  halfCycleVolts: 0.01,
  amps: 0.01,
});

/** What a described supply stands on, for the sentence an electrician reads. */
export function assumptionWords(circuit: Circuit): Said {
  const { europe, panelAmps, openVolts, celsius } = assumed;
  const upstream = isEuropean(circuit)
    ? { ohmsR: europe.ohmsR, ohmsX: europe.ohmsX }
    : { shortCircuit: panelAmps.value };
  return say('taken', {
    ...upstream,
    supply: circuit.volts,
    openPercent: openVolts.half * 100,
    celsius: [celsius.lo, celsius.hi],
  });
}
