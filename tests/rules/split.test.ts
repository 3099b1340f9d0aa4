import { describe, expect, it } from 'vitest';
import type { DropSplit, Share, SplitShares } from '../../shared/protocol/split.ts';
import { behindOhms } from '../../shared/rules/cord-drop.ts';
import { loadedVolts } from '../../shared/rules/foretell.ts';
import { type EndSeen, overlapOf, splitDrop } from '../../shared/rules/split.ts';
import { Random } from '../../simulator/electrics/random.ts';
import { channel, plate, setting, supply, view } from './given.ts';

/** Class S, as watches take it: limits of error, and the 95 % half-widths that follow. */
const limit = { volts: 0.005, amps: 0.02, ohms: 0.0206 };
const classS = setting({
  plate,
  accuracy: {
    volts: (2 * limit.volts) / Math.sqrt(3),
    halfCycleVolts: 0.01,
    amps: (2 * limit.amps) / Math.sqrt(3),
  },
});

/** What is true of a shop: the building's and the cord's ohms, and one weld on them. */
function shop(seed: number) {
  const random = new Random(seed, 'split');
  const between = (low: number, high: number) => low + (high - low) * random.unit();
  return {
    between,
    open: between(232, 246),
    building: between(0.05, 0.8),
    cord: between(0.02, 0.9),
    watts: between(3_500, 6_000),
    powerFactor: between(0.7, 1),
  };
}

/** The weld as both sensors read it, each with errors within its class, and what was true. */
function weld(seed: number) {
  const { between, open, building, cord, watts, powerFactor } = shop(seed);
  const error = (part: number) => 1 + between(-part, part);
  // Constant power at the machine: from there outward, V² + 2RP + R²I² (any waveform).
  let atMachine = open;
  for (let turn = 0; turn < 60; turn++) {
    const amps = watts / (powerFactor * atMachine);
    const whole = open * open - 2 * (building + cord) * watts - ((building + cord) * amps) ** 2;
    atMachine = Math.sqrt(Math.max(whole, (open / 2) ** 2));
  }
  const amps = watts / (powerFactor * atMachine);
  const atOutlet = Math.sqrt(atMachine ** 2 + 2 * cord * watts + (cord * amps) ** 2);
  // Before the arc the utility stood elsewhere, for both alike.
  const idle = open * error(0.004);
  const end = (volts: number, ohms: number): EndSeen => {
    const [ofVolts, ofAmps] = [error(limit.volts), error(limit.amps)];
    const read = {
      idleVolts: idle * ofVolts,
      meanVolts: volts * ofVolts,
      meanAmps: amps * ofAmps,
      meanWatts: watts * ofVolts * ofAmps,
    };
    const sd = (ohms * limit.ohms) / Math.sqrt(3);
    const seen = view({
      ...{ openVolts: open * ofVolts, openVoltsSd: 0.05, ohmsR: (ohms * ofVolts) / ofAmps },
      ...{ ohmsX: 0, varianceR: sd * sd, varianceX: 1e-8, lagRadians: 0, largestStepAmps: amps },
    });
    return {
      ...{ startS: 1, endS: 5, arc: { channels: [channel(read)], lostFraction: 0 } },
      supply: { pairs: [seen], behaviour: 'constant-power' },
    };
  };
  return {
    truth: { building: open - atOutlet, cord: atOutlet - atMachine, open },
    ohms: { building, cord },
    outlet: end(atOutlet, building),
    machine: end(atMachine, building + cord),
  };
}

const holds = ({ volts95: [low, high] }: Share, truth: number) => low <= truth && truth <= high;
const seeds = Array.from({ length: 200 }, (_, seed) => seed + 1);
const told = (split: DropSplit, key: 'atArc' | 'atFullLoad'): SplitShares => {
  expect(split.doubt).toBeNull();
  return split[key]!;
};

describe('the split of the drop', () => {
  it('holds what building and cord truly took in its 95 % interval, under the arc', () => {
    let within = 0;
    for (const seed of seeds) {
      const { truth, outlet, machine } = weld(seed);
      const shares = told(splitDrop(classS, outlet, machine), 'atArc');
      if (holds(shares.building, truth.building) && holds(shares.cord, truth.cord)) within += 1;
      const sum = shares.building.volts + shares.cord.volts + shares.leftVolts;
      expect(sum).toBeCloseTo(shares.openVolts, 6);
      // Of use: told to a tenth of itself, or half a volt.
      const [low, high] = shares.cord.volts95;
      expect(high - low).toBeLessThan(0.5 + 0.1 * truth.cord);
    }
    expect(within / seeds.length).toBeGreaterThanOrEqual(0.95);
  });

  it('holds it at the plate’s full current, foretold', () => {
    let [within, asked] = [0, 0];
    for (const seed of seeds) {
      const { truth, ohms, outlet, machine } = weld(seed);
      const all = ohms.building + ohms.cord;
      const line = view({ openVolts: truth.open, ohmsR: all, ohmsX: 0, lagRadians: 0 });
      const left = loadedVolts(line, 30, 240, 'constant-power');
      if (left === 0) continue;
      asked += 1;
      const shares = told(splitDrop(classS, outlet, machine), 'atFullLoad');
      const [fall, part] = [truth.open - left, ohms.building / all];
      if (holds(shares.building, fall * part) && holds(shares.cord, fall * (1 - part))) within += 1;
    }
    expect(asked).toBeGreaterThanOrEqual(100);
    expect(within / asked).toBeGreaterThanOrEqual(0.95);
  });

  it('takes no cord for more than none', () => {
    const { outlet } = weld(7);
    const { cord } = told(splitDrop(classS, outlet, outlet), 'atArc');
    expect(cord.volts).toBe(0);
    expect(cord.volts95[0]).toBe(0);
    expect(cord.volts95[1]).toBeLessThan(0.6);
  });

  it('gives a longer cord a larger share, the building the same', () => {
    const { outlet } = weld(3);
    const [idle, at] = [240, outlet.arc.channels[0]!];
    const behind = (ohms: number): EndSeen => {
      const meanVolts = behindOhms(at.meanVolts, at.meanAmps, at.meanWatts, ohms);
      const channels = [{ ...at, idleVolts: at.idleVolts ?? idle, meanVolts }];
      return { ...outlet, arc: { channels, lostFraction: 0 } };
    };
    const split = (ohms: number) => told(splitDrop(classS, outlet, behind(ohms)), 'atArc');
    const [short, long] = [split(0.1), split(0.4)];
    expect(long.cord.volts).toBeGreaterThan(short.cord.volts);
    expect(long.building.volts).toBeCloseTo(short.building.volts, 9);
  });
});

describe('a doubt', () => {
  const { outlet, machine } = weld(11);
  const bent = (end: EndSeen, change: object, lostFraction = 0): EndSeen => ({
    ...end,
    arc: { channels: [{ ...end.arc.channels[0]!, ...change }], lostFraction },
  });
  const kind = (at: EndSeen, by: EndSeen) => splitDrop(classS, at, by).doubt?.kind ?? null;

  it('stands in the way where the two are not one weld, and says why', () => {
    expect(kind(outlet, machine)).toBeNull();
    expect(kind(outlet, { ...machine, startS: 5.1, endS: 9 })).toBe('no-overlap');
    expect(kind(outlet, { ...machine, startS: 2, endS: 6 })).toBe('no-overlap');
    expect(kind(bent(outlet, {}, 0.1), machine)).toBe('lost');
    const amps = machine.arc.channels[0]!.meanAmps;
    expect(kind(bent(outlet, { meanAmps: amps * 1.2 }), machine)).toBe('currents');
    expect(kind(bent(outlet, { idleVolts: null }), machine)).toBe('no-idle');
    const idle = machine.arc.channels[0]!.idleVolts!;
    expect(kind(bent(outlet, { idleVolts: idle * 0.97 }), machine)).toBe('idle-volts');
    expect(kind(machine, outlet)).toBe('swapped');
    const two = { ...outlet, arc: { channels: [channel(), channel()], lostFraction: 0 } };
    expect(kind(two, machine)).toBe('pairs');
  });

  it('leaves no figures behind', () => {
    const split = splitDrop(classS, machine, outlet);
    expect(split).toMatchObject({ atArc: null, atFullLoad: null });
    expect(split.doubt!.outlet).toBeGreaterThan(split.doubt!.machine!);
  });

  it('of the supply leaves the arc’s own split standing', () => {
    const split = splitDrop(classS, { ...outlet, supply: null }, { ...machine, supply: null });
    expect(split.atArc).not.toBeNull();
    expect(split.atFullLoad).toBeNull();
    const unknown = supply();
    expect(
      splitDrop(setting({ rated: null }), outlet, { ...machine, supply: unknown }),
    ).toMatchObject({ doubt: null, atFullLoad: null });
  });

  it('counts what both cover of the longer', () => {
    expect(overlapOf({ startS: 0, endS: 4 }, { startS: 1, endS: 3 })).toBe(0.5);
    expect(overlapOf({ startS: 0, endS: 1 }, { startS: 1, endS: 3 })).toBe(0);
  });
});
