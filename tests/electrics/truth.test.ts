import { describe, expect, test } from 'vitest';
import { createPlant, parseScenario, scenarioByName } from '../../simulator/electrics/index.ts';

/**
 * The truth's supply against phasors taken from the counts: what a patient person with a pencil
 * would find, on a supply that does not wander and a sensor without errors.
 */
const hertz = 60;
const rateHz = 10_240;
const cycles = 12;
const span = Math.round((cycles / hertz) * rateHz);

interface Json {
  bays: {
    supply: Record<string, unknown>;
    work: Record<string, unknown>;
    neighbours?: object[];
    events?: object[];
    sensors: Record<string, unknown>[];
  }[];
}

function still(name: string, change: (bay: Json['bays'][0]) => void): unknown {
  const json = JSON.parse(JSON.stringify(scenarioByName(name))) as Json;
  const bay = json.bays[0]!;
  Object.assign(bay.supply, { wanderPercent: 0, wanderHertz: 0 });
  Object.assign(bay.work, { first: 'bead', beadS: [3, 3], firstArcS: 1.5 });
  Object.assign(bay.sensors[0]!, {
    bits: 24,
    voltsPercent: 0,
    ampsPercent: 0,
    leadDegrees: 0,
    offsetPpm: 0,
    noisePpm: 0,
    clockPpm: 0,
  });
  change(bay);
  return json;
}

/** Fundamental phasor, r.m.s. scale, of a channel over twelve cycles from a frame on. */
function phasor(counts: Int32Array, stride: number, channel: number, from: number, scale: number) {
  let re = 0;
  let im = 0;
  for (let at = from; at < from + span; at++) {
    const value = counts[at * stride + channel]! * scale;
    re += value * Math.cos((2 * Math.PI * hertz * at) / rateHz);
    im -= value * Math.sin((2 * Math.PI * hertz * at) / rateHz);
  }
  return { re: (Math.SQRT2 * re) / span, im: (Math.SQRT2 * im) / span };
}

function estimate(json: unknown) {
  const plant = createPlant(parseScenario(json), 2);
  const point = plant.points[0]!;
  const { pairs, voltsPerCount, ampsPerCount } = point.about;
  const counts = new Int32Array(6 * rateHz * pairs * 2);
  point.read(counts, 6 * rateHz);
  const truth = plant.truth();
  const arc = truth.arcs[0]!;
  const before = Math.round(arc.startS * rateHz) - span - 400;
  const during = Math.round(arc.startS * rateHz) + 4000;
  return {
    truth,
    found: Array.from({ length: pairs }, (_, pair) => {
      const at = (channel: number, from: number, scale: number) =>
        phasor(counts, pairs * 2, channel, from, scale);
      const v0 = at(2 * pair, before, voltsPerCount[pair]!);
      const v1 = at(2 * pair, during, voltsPerCount[pair]!);
      const i0 = at(2 * pair + 1, before, ampsPerCount[pair]!);
      const i1 = at(2 * pair + 1, during, ampsPerCount[pair]!);
      const dv = { re: v0.re - v1.re, im: v0.im - v1.im };
      const di = { re: i1.re - i0.re, im: i1.im - i0.im };
      const size = di.re ** 2 + di.im ** 2;
      const ohmsR = (dv.re * di.re + dv.im * di.im) / size;
      const ohmsX = (dv.im * di.re - dv.re * di.im) / size;
      const open = Math.hypot(
        v0.re + ohmsR * i0.re - ohmsX * i0.im,
        v0.im + ohmsR * i0.im + ohmsX * i0.re,
      );
      return { open, ohmsR, ohmsX };
    }),
  };
}

describe('the truth of the supply', () => {
  const standing = [
    { kind: 'heater', name: 'oven', at: 'panel', watts: 3000 },
    { kind: 'motor', name: 'lift', at: 'outlet', watts: 1500, startMultiple: 1 },
  ];
  test.each([
    { name: 'two wires', json: still('healthy-steel', () => {}) },
    { name: 'two wires, softly', json: still('thin-branch', () => {}) },
    {
      name: 'others on the same wires',
      json: still('thin-branch', (bay) => {
        bay.neighbours = standing;
      }),
    },
    {
      name: 'split phase, legs loaded unlike',
      json: still('open-neutral', (bay) => {
        bay.events = [];
        for (const each of bay.neighbours!) Object.assign(each, { firstOnS: 0, onS: [9, 9] });
      }),
    },
    { name: 'three phase', json: still('healthy-bench', () => {}) },
  ])('$name: ohms within 2 per cent, volts within 0.2', ({ json }) => {
    const { truth, found } = estimate(json);
    for (const [pair, { open, ohmsR, ohmsX }] of found.entries()) {
      const real = truth.supply[pair]!;
      expect(Math.abs(ohmsR - real.ohmsR)).toBeLessThan(0.001 + 0.02 * real.ohmsR);
      expect(Math.abs(ohmsX - real.ohmsX)).toBeLessThan(0.001 + 0.04 * real.ohmsX);
      expect(Math.abs(open / real.openVolts - 1)).toBeLessThan(0.002);
    }
  });
});
