import { expect, test } from 'vitest';
import { languages } from '../../dashboard/web/src/parts/preferences.ts';
import { said, saidToElectrician } from '../../dashboard/web/src/parts/said.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import { decidingFinding } from '../../shared/protocol/deciding-finding.ts';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { judgeArc, judgeRecording } from '../../shared/rules/judge.ts';
import { say, sayAll } from '../../shared/rules/say.ts';
import { sentences as german } from '../../shared/words/de/sentences.ts';
import { connection } from '../../shared/words/en/connection.ts';
import { current } from '../../shared/words/en/current.ts';
import { output } from '../../shared/words/en/output.ts';
import { sensor } from '../../shared/words/en/sensor.ts';
import { sentences as english } from '../../shared/words/en/sentences.ts';
import { arc, evidence, otherStep, plate, sensorPair, setting, supply } from './given.ts';
import { expectBothLanguages, toldIn, unsaid } from './sayings.ts';

const circuit = {
  ...{ name: 'Bay', volts: 240, phases: 1 as const, breakerAmps: 50, receptacleAmps: 50 },
  dedicated: true,
  branch: { awg: 10, metal: 'copper' as const, feet: 60 },
  cords: [{ awg: 12, feet: 25 }],
  sensorAt: 'outlet' as const,
};

const work = { process: 'mig-steel' as const, wireInches: null, pulse: false };
const kinds = ['constant-power', 'constant-impedance', undefined] as const;
/** Machines of each kind, with work that asks for much or little of their output. */
const outputs = kinds.flatMap((behaviour) =>
  [null, { ...work, leastOutput: 0.83 }, { ...work, leastWeldAmps: 170.4 }].map((asked) =>
    setting({ plate: { ...plate, ...(behaviour ? { behaviour } : {}) }, work: asked }),
  ),
);

/** Circuits that are right and wrong in each way of wire, breaker and receptacle. */
const metric = { ...circuit, branch: { mm2: 4, metres: 20 }, cords: [{ mm2: 2.5, metres: 10 }] };
const wired = [
  { ...circuit, neutralLoaded: true, breakerAmps: 20, receptacleAmps: 30, dedicated: false },
  { ...circuit, breakerAmps: 28, receptacleAmps: 15 },
  { ...circuit, breakerAmps: 15, branch: { ...circuit.branch, ambientCelsius: 40.5 } },
  { ...circuit, branch: { ...circuit.branch, terminalsCelsius: 75, insulationCelsius: 75 } },
  { ...circuit, cords: [{ awg: 6, feet: 400 }], receptacleAmps: 30, dedicated: false },
  { ...circuit, branch: { ...circuit.branch, awg: 12, groupedCircuits: 3 }, dedicated: false },
  { ...metric, breakerAmps: 32, receptacleAmps: 16 },
  { ...metric, breakerAmps: 16, breakerType: 'C' },
  { ...metric, branch: { mm2: 6, insulationCelsius: 90, method: 'C' }, breakerAmps: 1.4 },
  { ...metric, breakerAmps: 160 },
] as (Circuit & typeof circuit)[];

const notes = [
  ...(['couponItself', 'couponLacking', 'couponTooShort'] as const).map((name) => say(name)),
  sayAll(say('couponHoldsNoLonger'), say('couponAnew')),
];

const changed = { ohmsBefore: 0.1, ohmsAfter: 0.4, amps: 20, sinceS: 12.5, confirmed: true };
const connections = [
  ...(['grown', 'heats', 'wanders'] as const).map((kind) => ({
    ...{ ...changed, kind, added95: [0.2, 0.4] as const },
  })),
  { ...changed, kind: 'grown' as const, added95: [0.2, 0.4] as const, confirmed: false },
  { ...changed, kind: 'grown' as const, added95: [0, 0.1] as const },
];

const refusals = [
  { code: 'no-step', params: {} },
  { code: 'wide', params: { ohms: 0.3, halfOhms: 0.2 } },
  { code: 'frequency-moves', params: { ohmsX: 2 } },
  { code: 'negative-resistance', params: { ohms: -0.2 } },
  { code: 'negative-reactance', params: { ohms: -0.4 } },
  { code: 'large-reactance', params: { ohms: 1.2, ohmsR: 0.3 } },
  { code: 'near-load', params: { ohms: 4.2 } },
  { code: 'edges-disagree', params: { ohms: 0.3 } },
  { code: 'misses', params: { misses: 3, edges: 8 } },
  { code: 'generator', params: {} },
];

const engine = { hertzIdle: 60.5, hertzLow: 59.7, hertzHigh: 60.6, dip: 0.12 };
const generators = [
  { ...engine, settled: [{ volts: 229, amps: 28 }] },
  { ...engine, settled: [{ volts: 234, amps: 12 }] },
  { ...engine, dip: 0.31, settled: null },
];

/** Findings of good and bad, with and without plate, circuit, coupon and evidence. */
function everyFinding(): Finding[] {
  const settings = [
    setting(),
    setting({ circuit }),
    setting({ circuit: { ...circuit, dedicated: false, sensorAt: 'machine' } }),
    ...outputs,
    setting({ plate: { ...plate, ratings: [] }, work: { ...work, leastWeldAmps: 100 } }),
    ...wired.map((each) => setting({ circuit: each })),
    setting({ plate: null, rated: null, nominalVolts: null }),
    setting({ coupon: { watts: [4_000, 5_500] } }),
    ...notes.map((couponNote) => setting({ couponNote })),
    setting({ coupon: { watts: [7_000, 8_000] } }),
  ];
  const arcs = [
    arc(),
    arc({ minVolts200ms: 216, minVoltsHalfCycle: 216 }),
    arc({ minVolts200ms: 190, minVoltsHalfCycle: 180 }),
    arc({ meanVolts: 290 }),
    arc({ maxVolts200ms: 290 }),
    arc({ maxVolts200ms: 264 }),
    arc({ idleVolts: 290, maxVolts200ms: 280 }),
    arc({}, 0.5),
  ];
  const others = { count: 2, searched: true };
  const worst = otherStep({ volts: -9 });
  const sag = { startS: 1, durationS: 0.3, residualVolts: 190, referenceVolts: 240 };
  const evidences = [
    evidence({}),
    evidence({ supply: { ...supply({ openVolts: 228 }), behaviour: 'unknown' } }),
    evidence({ supply: supply({ openVolts: 250, ohmsR: 0.01 }) }),
    evidence({ supply: supply({ ohmsR: 1.5 }), others: { ...others, worst } }),
    evidence({ supply: { ...supply({ largestStepAmps: 3 }), loaded: [0.4] } }),
    ...connections.map((each) => evidence({ supply: { ...supply(), connection: each } })),
    ...refusals.map((refused) =>
      evidence({ supply: { pairs: [null], behaviour: 'unknown', refused: [refused] } }),
    ),
    ...generators.map((generator) =>
      evidence({ supply: { pairs: [null], behaviour: 'unknown', generator } }),
    ),
    evidence({ supply: { ...supply(), measured: [[{ volts: 228, amps: 26 }]] } }),
    evidence({ supply: { pairs: [null], behaviour: 'unknown' } }),
    ...[
      otherStep({ volts: 2 }),
      otherStep({ volts: 0.1, surgeVolts: 14, stays: false }),
      otherStep({ volts: -0.1, surgeVolts: -14, stays: false }),
      otherStep({ volts: -40, surgeVolts: -40, ohms: 0.1 }),
      otherStep({ volts: 2, surgeVolts: -14 }),
      otherStep({ volts: -9, ohms: 0.3 }),
    ].map((step) => evidence({ others: { ...others, worst: step } })),
    evidence({ others: { ...others, count: 1, worst } }),
    evidence({
      sags: {
        count: 3,
        worst: { ...sag, category: 'momentary', duringArc: true },
        lost: { count: 2, last: { atS: 4, amps: 34.2, afterS: 12.6 } },
        swells: {
          count: 2,
          worst: {
            ...{ startS: 1, durationS: 0.3, highestVolts: 290, referenceVolts: 240 },
            ...{ category: 'instantaneous swell', duringArc: true },
          },
        },
        strikes: { count: 3, worst: { atS: 1, minVoltsHalfCycle: 170, amps: 40, watts: 6_000 } },
      },
      duty: { highestFraction: 0.6, effectiveAmps: 33, atS: [0, 600] },
      waveform: { hertzLow: 57, hertzHigh: 62, thdVoltsPercent: 12, crest: 1.2 },
    }),
  ];
  // The same text twice says nothing new: of thousands of findings some hundred differ.
  const found = new Map<string, Finding>();
  const keep = (findings: readonly Finding[]) => {
    for (const each of findings) found.set(`${each.says}|${each.electrician}`, each);
  };
  for (const each of settings)
    for (const seen of evidences) {
      for (const one of arcs) keep(judgeArc(each, one, seen).findings);
      keep(judgeRecording(each, seen, []).findings);
    }
  return [...found.values()];
}

test('every finding has names for what it says, and German says all of it', () => {
  const told = toldIn(everyFinding());
  expect(new Set(told.texts.map(([, { name }]) => name)).size).toBeGreaterThan(30);
  expectBothLanguages(told);
  expect(unsaid(current, told)).toEqual(['feederDraws']);
  expect(unsaid(connection, told)).toEqual([]);
  const reasons = refusals.map((each) => say('supplyRefused', each).says);
  expect(new Set(reasons).size).toBe(refusals.length);
  expect(unsaid(output, told)).toEqual([]);
});

test('every doubt of the sensor is said in both languages', () => {
  const lying = sensorPair({
    ...{ watts: -5_000, deadSeconds: 0.1 },
    volts: { clipped: 9, heldSeconds: 0.2, offsetShare: 0.1 },
    amps: { clipped: 9, stillSeconds: 0.2, stillAt: 9 },
  });
  const odd = sensorPair({ lopsided: 0.4, amps: { offsetShare: 0.2 } });
  const mixed = sensorPair({ watts: -2_000, vars: 4_000 });
  const told = toldIn(
    [
      evidence({ openVolts: 41, sensor: { pairs: [lying], same: [0, 1] } }),
      evidence({ sensor: { pairs: [mixed], same: null } }),
      evidence({ sensor: { pairs: [odd], same: null } }),
      evidence(),
    ].flatMap((seen) => [
      judgeArc(setting(), arc({ maxAmps200ms: 300, meanAmps: 300 }), seen),
      judgeArc(setting({ circuit, rated: null }), arc({ maxAmps200ms: 300 }), seen),
      judgeArc(setting(), arc(), seen),
    ]),
  );
  expectBothLanguages(told);
  expect(unsaid(sensor, told)).toEqual([]);
});

test('both languages know the same sentences', () => {
  expect(Object.keys(german)).toEqual(Object.keys(english));
  expect(Object.keys(languages)).toEqual(['en', 'de']);
});

test('what has no name is said in English as it came', () => {
  const finding = judgeArc(setting(), arc(), evidence({})).findings[0]!;
  expect(said({ says: 'As it was stored.' })).toBe('As it was stored.');
  expect(said(finding)).toBe(finding.says);
  expect(saidToElectrician({ ...finding, electrician: null })).toBe(null);
  expect(decidingFinding(finding.verdict, [finding])?.saying).toEqual(finding.saying);
});
