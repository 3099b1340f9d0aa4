import { afterAll, describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Finding, Judgement, Verdict } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { createPlant, scenarioByName } from '../../simulator/electrics/index.ts';

/**
 * Every fault of the scenarios against the rule that must find it, and the healthy ones against
 * all. STIFFLINE_CONFUSION_SEEDS sets how many seeds a scenario has.
 */
const seeds = Number(process.env.STIFFLINE_CONFUSION_SEEDS ?? 10);
/** Of each fault at least this share must be found; of the healthy at most this share alarmed. */
const leastFound = 0.99;
const mostAlarms = 0.005;
/** Ten seconds a seed are ten times what one takes on an idle core. */
const timeout = Math.max(180_000, 10_000 * seeds);

interface Case {
  scenario: string;
  /** Seconds of record; the fault is there by then. */
  seconds: number;
  /** Part of the seeds that are run: ten minutes of duty take long. */
  part?: number;
  found(judgement: Judgement): boolean;
}

const says = (findings: readonly Finding[], rule: string, ...verdicts: Verdict[]): boolean =>
  findings.some((each) => each.rule === rule && verdicts.includes(each.verdict));
const fails =
  (...names: string[]) =>
  ({ findings }: Judgement): boolean =>
    names.some((rule) => says(findings, rule, 'underpowered'));
const heatSays = (word: string) => (judgement: Judgement) =>
  judgement.arcs.some((arc) =>
    arc.findings.some((each) => each.rule === 'heat' && each.says.includes(word)),
  );

const faults: Case[] = [
  { scenario: 'long-thin-cord', seconds: 20, found: fails('plate-voltage', 'full-load') },
  { scenario: 'thin-branch', seconds: 20, found: fails('plate-voltage', 'full-load') },
  { scenario: 'loose-terminal', seconds: 20, found: fails('plate-voltage', 'full-load') },
  { scenario: 'shared-circuit', seconds: 24, found: fails('other-load') },
  { scenario: '208-under-240', seconds: 16, found: fails('voltage-class') },
  {
    scenario: 'weak-generator',
    seconds: 20,
    found: ({ findings }) => says(findings, 'waveform', 'marginal'),
  },
  { scenario: 'open-neutral', seconds: 24, found: fails('phases') },
  { scenario: 'lost-phase', seconds: 20, found: fails('phases') },
  { scenario: 'no-strike', seconds: 20, found: fails('strike-voltage', 'full-load') },
  { scenario: 'light-bead', seconds: 20, found: ({ verdict }) => verdict !== 'adequate' },
  {
    scenario: 'overrun-duty',
    seconds: 640,
    part: 0.2,
    found: ({ findings }) => says(findings, 'duty', 'marginal', 'underpowered'),
  },
  { scenario: 'cold-set-up', seconds: 36, found: heatSays('colder') },
  { scenario: 'hot-set-up', seconds: 36, found: heatSays('hotter') },
];
const healthy = ['healthy-steel', 'healthy-aluminium', 'healthy-braze', 'healthy-bench'];

/** What the first sensor of a scenario sees, judged with its plate, circuit and coupon. */
function judge(name: string, seed: number, seconds: number): Judgement {
  const scenario = scenarioByName(name);
  if (scenario === null) throw new Error(`there is no scenario ${name}`);
  const bay = scenario.bays[0]!;
  const plant = createPlant(scenario, seed, [bay.sensors[0]!.name]);
  const point = plant.points[0]!;
  const { rateHz, pairs, sensorAt, voltsPerCount, ampsPerCount } = point.about;
  const watch = new Watch(
    {
      ...{ rateHz, pairs, startedAt: null, nominalVolts: null, nominalHertz: null, keep: 200 },
      plate: bay.plate as Plate | null,
      circuit: { ...(bay.circuit as Circuit), sensorAt },
      coupon: (bay.coupon as { watts: [number, number] } | undefined) ?? null,
    },
    {},
  );
  const frames = 2_048;
  const counts = new Int32Array(frames * 2 * pairs);
  const channels = Array.from({ length: 2 * pairs }, () => new Float64Array(frames));
  for (let at = 0; at < seconds * rateHz; at += frames) {
    point.read(counts, frames);
    channels.forEach((column, c) => {
      const scale = (c % 2 === 0 ? voltsPerCount : ampsPerCount)[c >> 1]!;
      for (let n = 0; n < frames; n++) column[n] = counts[n * 2 * pairs + c]! * scale;
    });
    watch.push(channels, frames);
  }
  watch.end();
  return watch.judgement(name);
}

/** The table, a line a scenario: how often its rule spoke. */
const table: string[] = [];
const line = (scenario: string, what: string, times: number, of: number) =>
  table.push(`${scenario.padEnd(20)} ${what.padEnd(12)} ${times} of ${of}`);
afterAll(() => {
  process.stdout.write(`\n${table.join('\n')}\n`);
});

const seedsOf = (part = 1) =>
  Array.from({ length: Math.max(1, Math.round(seeds * part)) }, (_, index) => index + 1);

describe('faults are found by the rule that is there for them', () => {
  test.each(faults)(
    '$scenario',
    ({ scenario, seconds, part, found }) => {
      const run = seedsOf(part);
      const missed = run.filter((seed) => !found(judge(scenario, seed, seconds)));
      line(scenario, 'found', run.length - missed.length, run.length);
      expect(missed.length / run.length, `seeds ${missed.join(', ')}`).toBeLessThanOrEqual(
        1 - leastFound,
      );
    },
    timeout,
  );
});

describe('the healthy shop raises no alarm', () => {
  test.each(healthy)(
    '%s',
    (scenario) => {
      const run = seedsOf();
      const alarmed = run.filter((seed) => {
        const { verdict } = judge(scenario, seed, 20);
        return verdict === 'underpowered' || verdict === 'marginal';
      });
      line(scenario, 'false alarms', alarmed.length, run.length);
      expect(alarmed.length / run.length, `seeds ${alarmed.join(', ')}`).toBeLessThanOrEqual(
        mostAlarms,
      );
    },
    timeout,
  );
});
