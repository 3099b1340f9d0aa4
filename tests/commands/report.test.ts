import { expect, test } from 'vitest';
import { report } from '../../dashboard/commands/report.ts';
import { judged, plate240 } from '../watch/judged.ts';
import { quietSupply, samples } from '../watch/synth.ts';

const judgement = judged(10_240, samples({ ...quietSupply, seconds: 2, arcs: [] }));

test('flicker, unbalance and frequency stand among the figures where periods were whole', () => {
  const told = report(
    {
      ...judgement,
      flicker: [{ pst: 0.834, plt: null, periods: 3 }, null, { pst: 1.2, plt: 0.95, periods: 14 }],
      unbalance: { u2Percent: 1.234, u0Percent: 0.5, periods: 3 },
      frequency10s: { lowestHertz: 59.9812, highestHertz: 60.02, periods: 180 },
    },
    false,
  );
  expect(told).toContain('flicker, pair 1: severity (Pst) up to 0.83, of 3 × 10 min\n');
  expect(told).not.toContain('flicker, pair 2');
  expect(told).toContain('pair 3: severity (Pst) up to 1.20, long-term severity (Plt) up to 0.95');
  expect(told).toContain('negative sequence up to 1.23 %, zero sequence up to 0.50 %');
  expect(told).toContain('frequency over 10 s: 59.981 to 60.020 Hz');
});

test('a short record says nothing of them', () => {
  expect(report(judgement, false)).not.toMatch(/flicker|unbalance|over 10 s/);
});

test('swells stand beside sags, one a line', () => {
  const steps = [
    { atS: 0.5, factor: 1.2 },
    { atS: 1, factor: 1 },
  ];
  const told = report(
    judged(10_240, samples({ ...quietSupply, seconds: 2, arcs: [], steps })),
    false,
  );
  expect(told).toMatch(
    / {2}swell at 0\.\d\d s: 28[78]\.\d V, (19\.\d|20\.0) % over, 0\.\d{3} s, pair 1, \w+ swell\n/,
  );
  expect(told).not.toContain('  sag at');
});

test('how several pairs are fed, and what lay between them', () => {
  const leg = { ...quietSupply, seconds: 3, volts: 120, ohmsR: 0.1 };
  const arcs = [{ startS: 1.2, endS: 2.4, amps: 24 }];
  const legs = [0, (-2 * Math.PI) / 3].flatMap((turn) =>
    samples({ ...leg, arcs, phase: quietSupply.phase + turn }),
  );
  const told = report(judged(10_240, legs, { plate: plate240 }), false);
  expect(told).toMatch(
    / {2}service: Two legs of a 208 V service \(208Y\/120\), 207\.\d V between 1–2\n/,
  );
  // Pair, idle, mean and least volts: between 1 and 2 √3 times those of a leg.
  expect(told).toMatch(/\n +1–2 +207\.\d +20[345]\.\d +20[345]\.\d/);
  expect(report(judgement, false)).not.toContain('service:');
});
