import type { Circuit } from '../../../../shared/protocol/circuit.ts';
import type { Arc, Finding } from '../../../../shared/protocol/judgement.ts';
import type { Plate } from '../../../../shared/protocol/plate.ts';
import { loopVolts, type Terminals } from '../../../../shared/protocol/service.ts';
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

/**
 * Volts between the machine's terminals from each pair's, by the angles that an arc has shown
 * (`at`). Before one two legs are taken to add up, and three phases to neutral to count √3 times,
 * where that is nearer to what the circuit is described as. Drawn only.
 */
export function terminalVolts(
  pairs: readonly number[],
  nominal: number | null,
  at?: Terminals,
): number {
  if (at !== undefined) return Math.min(...loopVolts(at, pairs));
  const least = Math.min(...pairs);
  if (nominal === null || pairs.length === 1) return least;
  const joined =
    pairs.length === 2 ? pairs.reduce((sum, volts) => sum + volts, 0) : least * Math.sqrt(3);
  return Math.abs(joined - nominal) < Math.abs(least - nominal) ? joined : least;
}

/** The band as one pair sees it, where two legs or three phases make the machine's voltage. */
export function pairBand(
  band: readonly [number, number] | null,
  pairs: readonly number[],
  nominal: number | null,
  at?: Terminals,
): [number, number] | null {
  const least = Math.min(...pairs);
  if (!band || !(least > 0)) return null;
  const times = terminalVolts(pairs, nominal, at) / least;
  return [band[0] / times, band[1] / times];
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
  const full = arc ? of(arc.findings, 'full-load') : undefined;
  const foretold =
    full?.measured != null && full.unit === 'V'
      ? {
          volts: full.measured,
          low: full.interval?.[0] ?? full.measured,
          high: full.interval?.[1] ?? full.measured,
        }
      : null;
  return { rated, band, ...loaded(arc, rated, openVolts), foretold };
}

/** The arc's own volts; its lowest is the rule's, which takes a cord's drop off where one lies. */
function loaded(arc: Arc | null, rated: number, openVolts: number | null) {
  if (!arc) return { open: openVolts, arc: null };
  const all = [...arc.channels, ...(arc.between ?? [])];
  const seen = arc.loops?.map((loop) => all[loop]!) ?? arc.channels;
  const over = (pick: (channel: Arc['channels'][number]) => number) =>
    arc.loops ? Math.min(...seen.map(pick)) : terminalVolts(seen.map(pick), rated);
  const idle = seen.every((channel) => channel.idleVolts !== null)
    ? over((channel) => channel.idleVolts ?? 0)
    : openVolts;
  const least = over((channel) => channel.minVolts200ms);
  const lowest = of(arc.findings, 'plate-voltage')?.measured ?? least;
  const mean = over((channel) => channel.meanVolts) - (least - lowest);
  return { open: idle, arc: { mean, lowest } };
}
