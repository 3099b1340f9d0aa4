import type { Arc } from './arc.ts';
import { lineVolts, pairsOf } from './lines.ts';
import { CapacitorInverter } from './machines/capacitor-inverter.ts';
import { Connected, type OnePort, type WeldingMachine } from './machines/machine.ts';
import { PfcInverter } from './machines/pfc-inverter.ts';
import { ThreePhaseRectifier } from './machines/three-phase-rectifier.ts';
import { TransformerRectifier } from './machines/transformer-rectifier.ts';
import type { Random } from './random.ts';
import type { Bay } from './scenario.ts';
import { GeneratorSource, type Source, UtilitySource } from './source.ts';

export function sourceOf(bay: Bay, random: Random): Source {
  const { supply, circuit } = bay;
  const rms = lineVolts(bay, supply.volts ?? circuit.volts);
  const lines = pairsOf(bay);
  return supply.kind === 'utility'
    ? new UtilitySource(supply, rms, circuit.hertz, lines, random)
    : new GeneratorSource(supply, rms, circuit.hertz, lines, random);
}

/** Lines that a one-port hangs between: named ones, or on split phase the two legs. */
export function portOf(bay: Bay): [from: number, to: number] {
  const [first, second] = bay.machine.lines;
  if (first !== undefined) return [first - 1, second === undefined ? -1 : second - 1];
  return bay.wires === 'two' ? [0, -1] : [0, 1];
}

/** Where the machine's current of each line comes back; what `seenFrom` asks. */
export function returnsOf(bay: Bay): number[] {
  const lines = pairsOf(bay);
  if (bay.machine.kind === 'three-phase-rectifier') return [-2, -2, -2];
  const [from, to] = portOf(bay);
  return Array.from({ length: lines }, (_, line) => (line === from ? to : line === to ? from : -1));
}

export function machineOf(bay: Bay, arc: Arc): WeldingMachine {
  const spec = bay.machine;
  if (spec.kind === 'three-phase-rectifier') return new ThreePhaseRectifier(spec, arc);
  let port: OnePort;
  if (spec.kind === 'capacitor-inverter') port = new CapacitorInverter(spec, arc);
  else if (spec.kind === 'pfc-inverter') port = new PfcInverter(spec, arc);
  else port = new TransformerRectifier({ ...spec, hertz: bay.circuit.hertz }, arc);
  const [from, to] = portOf(bay);
  return new Connected(port, from, to);
}
