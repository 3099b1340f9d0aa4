import { describe, expect, test } from 'vitest';
import {
  bandOf,
  ladderFacts,
  pairBand,
  terminalVolts,
} from '../../dashboard/web/src/parts/plate-band.ts';

const plate = {
  name: 'Two ways',
  phases: 1 as const,
  supply: [
    { U1: 120, I1max: 23 },
    { U1: 240, I1max: 12 },
  ],
};

describe('the band that the plate permits', () => {
  test('is ±10 % of the plate’s line nearest to the circuit', () => {
    expect(bandOf(plate, { name: 'bay', volts: 208 })).toEqual([216, 264]);
    expect(bandOf(plate, { name: 'bay', volts: 120 })).toEqual([108, 132]);
    expect(bandOf(null, { name: 'bay', volts: 120 })).toBeNull();
  });

  test('is shared out where legs or phases make up the machine’s voltage', () => {
    expect(pairBand([216, 264], [120, 121], 240)).toEqual([
      expect.closeTo(107.55, 1),
      expect.closeTo(131.45, 1),
    ]);
    const [low] = pairBand([187.2, 228.8], [120, 120, 120], 208)!;
    expect(low).toBeCloseTo(187.2 / Math.sqrt(3), 3);
    expect(pairBand([108, 132], [119], 120)).toEqual([108, 132]);
    expect(pairBand(null, [119], 120)).toBeNull();
  });
});

test('two legs add up, three phases count √3, alike pairs stay as they are', () => {
  expect(terminalVolts([120, 119], 240)).toBe(239);
  expect(terminalVolts([120, 121, 122], 208)).toBeCloseTo(207.8, 1);
  expect(terminalVolts([239, 240], 240)).toBe(239);
  expect(terminalVolts([118], 120)).toBe(118);
});

test('by the angle that an arc has shown: two legs of a wye make 208 V, not 240 V', () => {
  const wye = { loops: [2], volts: [120, 120, 207.8] };
  expect(terminalVolts([120, 119], 240, wye)).toBeCloseTo(207, 0);
  expect(terminalVolts([120, 119], 240, { loops: [1], volts: wye.volts })).toBe(119);
  const [low] = pairBand([216, 264], [120, 120], 240, wye)!;
  expect(low).toBeCloseTo(216 / Math.sqrt(3), 1);
});

test('the ladder stands on what lay between the terminals', () => {
  const figures = (volts: number, amps: number) => ({
    ...{ idleVolts: volts + 2, idleAmps: 0, meanVolts: volts, minVolts200ms: volts - 1 },
    ...{
      minVoltsHalfCycle: volts - 2,
      meanAmps: amps,
      maxAmps200ms: amps,
      meanWatts: volts * amps,
    },
    ...{ powerFactor: 1, thdVoltsPercent: null, thdAmpsPercent: null },
  });
  const arc = {
    ...{ startS: 0, endS: 1, durationS: 1, lostFraction: 0, verdict: 'underpowered' as const },
    ...{ channels: [figures(120, 20), figures(119, 20)], between: [figures(206, 20)] },
    ...{ loops: [2], findings: [] },
  };
  const facts = ladderFacts(arc, { ...plate, supply: [{ U1: 240, I1max: 12 }] }, null, null)!;
  expect(facts).toMatchObject({ open: 208, arc: { mean: 206, lowest: 205 } });
});
