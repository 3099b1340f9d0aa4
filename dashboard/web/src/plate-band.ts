import type { Circuit } from '../../../shared/protocol/circuit.ts';
import type { Arc, Finding } from '../../../shared/protocol/judgement.ts';
import type { Plate } from '../../../shared/protocol/plate.ts';
import type { LadderFacts } from './ladder.tsx';

/**
 * The plate's rated voltage nearest to the circuit's, and ±10 % of it (IEC 60974-1 clause 10, from
 * memory). Drawn only: the verdict comes from the server.
 */
export function bandOf(plate: Plate | null, circuit: Circuit | null): [number, number] | null {
  const rated = ratedVolts(plate, circuit);
  return rated === null ? null : [rated * 0.9, rated * 1.1];
}

function ratedVolts(plate: Plate | null, circuit: Circuit | null): number | null {
  const rated = plate?.supply.map((line) => line.U1) ?? [];
  if (rated.length === 0) return null;
  const volts = circuit?.volts ?? rated[0]!;
  return rated.reduce((best, each) =>
    Math.abs(each - volts) < Math.abs(best - volts) ? each : best,
  );
}

const of = (findings: readonly Finding[], rule: string) =>
  findings.find((finding) => finding.rule === rule);

/** What an arc puts on the ladder; null where no plate says what is enough. */
export function ladderFacts(
  arc: Arc | null,
  plate: Plate | null,
  circuit: Circuit | null,
  openVolts: number | null,
): LadderFacts | null {
  const band = bandOf(plate, circuit);
  const rated = ratedVolts(plate, circuit);
  if (!band || rated === null) return null;
  const worst = arc?.channels.reduce((a, b) => (a.minVolts200ms < b.minVolts200ms ? a : b));
  const full = arc ? of(arc.findings, 'full-load') : undefined;
  const foretold =
    full?.measured != null && full.unit === 'V'
      ? {
          volts: full.measured,
          low: full.interval?.[0] ?? full.measured,
          high: full.interval?.[1] ?? full.measured,
        }
      : null;
  return {
    rated,
    band,
    open: worst?.idleVolts ?? openVolts,
    arc: worst ? { mean: worst.meanVolts, lowest: worst.minVolts200ms } : null,
    foretold,
  };
}
