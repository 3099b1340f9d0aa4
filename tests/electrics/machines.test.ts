import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Arc } from '../../simulator/electrics/arc.ts';
import { stepsPerSecond } from '../../simulator/electrics/clockwork.ts';
import { scenarioByName } from '../../simulator/electrics/index.ts';
import { CapacitorInverter } from '../../simulator/electrics/machines/capacitor-inverter.ts';
import type { OnePort, Terminals } from '../../simulator/electrics/machines/machine.ts';
import { PfcInverter } from '../../simulator/electrics/machines/pfc-inverter.ts';
import { TransformerRectifier } from '../../simulator/electrics/machines/transformer-rectifier.ts';
import { Random } from '../../simulator/electrics/random.ts';
import { type Bench, read } from './bench.ts';

const steady = { burning: true, share: 1, shorted: false } as Arc;
const none = { burning: false, share: 0, shorted: false } as Arc;

const stage = {
  efficiency: 0.84,
  idleWatts: 30,
  maxAmps: 180,
  switchOnS: 0,
  dropFraction: 0.6,
  restartS: 0.8,
  foldFraction: 0.74,
};
const capacitor = (arc: Arc, volts = 240): OnePort =>
  new CapacitorInverter(
    { ...stage, volts, farads: 0.0022, ohms: 0.08, henries: 20e-6, prechargeOhms: 12 },
    arc,
  );
const corrected = (arc: Arc): OnePort =>
  new PfcInverter({ ...stage, volts: 240, farads: 0.002, busVolts: 390, supplyAmps: 40 }, arc);
const transformer = (arc: Arc): OnePort =>
  new TransformerRectifier(
    {
      ...stage,
      volts: 240,
      hertz: 60,
      tapVolts: 31,
      maxAmps: 170,
      ohms: 0.4,
      leakHenries: 1.2e-3,
      magnetHenries: 0.35,
      coreOhms: 400,
      kneeFraction: 1.2,
      chokeHenries: 0.4e-3,
    },
    arc,
  );

/** Watches the first second of a port's current. */
class Peak implements OnePort {
  highest = 0;
  private readonly port: OnePort;
  constructor(port: OnePort) {
    this.port = port;
  }
  get ready(): boolean {
    return this.port.ready;
  }
  step(at: Terminals): void {
    this.port.step(at);
    this.highest = Math.max(this.highest, Math.abs(at.amps));
  }
  slice(nowS: number): void {
    this.port.slice(nowS);
  }
  set(amps: number): void {
    this.port.set(amps);
  }
}

const supplied = (port: OnePort, rms = 240, ohms = 0.12): Bench => ({
  rms,
  ohms,
  ohmsX: 0.045,
  port,
  seconds: 1.5,
});

describe('capacitor-input inverter', () => {
  const loaded = read(supplied(capacitor(steady)));
  test('takes the power that its output needs, at the power factor of its kind', () => {
    // 180 A × 23 V / 0.84, and the losses in bridge and filter.
    expect(loaded.watts).toBeGreaterThan(4960);
    expect(loaded.watts).toBeLessThan(5300);
    expect(loaded.powerFactor).toBeGreaterThan(0.55);
    expect(loaded.powerFactor).toBeLessThan(0.75);
  });

  test('holds its power as the volts fall: more current', () => {
    const low = read(supplied(capacitor(steady), 222));
    expect(low.watts / loaded.watts).toBeCloseTo(1, 1.5);
    expect(low.amps).toBeGreaterThan(loaded.amps * 1.03);
  });

  test('folds back when the link falls low, and drops out when lower', () => {
    const folded = read(supplied(capacitor(steady), 205, 0.9));
    expect(folded.watts).toBeLessThan(loaded.watts * 0.97);
    const port = capacitor(steady);
    expect(read(supplied(port, 150)).watts).toBeLessThan(200);
  });

  test('idles on little, and its inrush is bounded by the charging resistor', () => {
    const port = new Peak(capacitor(none));
    const idle = read(supplied(port));
    expect(idle.watts).toBeGreaterThan(29);
    expect(idle.watts).toBeLessThan(40);
    expect(port.highest).toBeGreaterThan(15);
    expect(port.highest).toBeLessThan(60);
  });
});

describe('inverter with power-factor correction', () => {
  test('draws a current in the shape of its voltage', () => {
    const loaded = read(supplied(corrected(steady)));
    expect(loaded.powerFactor).toBeGreaterThan(0.985);
    expect(loaded.watts / ((180 * 23) / 0.84)).toBeCloseTo(1, 1.5);
  });

  test('stops at its current limit, and then its output gives way', () => {
    const low = read(supplied(corrected(steady), 130));
    expect(low.amps).toBeLessThan(41);
    expect(low.watts).toBeLessThan(4500);
  });
});

describe('transformer and rectifier', () => {
  test('makes a colder arc on a lower supply', () => {
    const full = read(supplied(transformer(steady), 240));
    const low = read(supplied(transformer(steady), 216));
    expect(full.watts).toBeGreaterThan(4000);
    expect(low.watts / full.watts).toBeLessThan(0.85);
    expect(low.amps).toBeLessThan(full.amps);
    expect(full.powerFactor).toBeGreaterThan(0.5);
    expect(full.powerFactor).toBeLessThan(0.95);
  });

  test('surges when it is switched on, and idles on magnetising current', () => {
    const port = new Peak(transformer(none));
    const idle = read({ ...supplied(port), seconds: 2 });
    expect(port.highest).toBeGreaterThan(100);
    expect(idle.amps).toBeLessThan(5);
    expect(idle.powerFactor).toBeLessThan(0.6);
  });
});

describe('softer supply, worse for the machine', () => {
  test.each([
    ['capacitor', capacitor],
    ['corrected', corrected],
    ['transformer', transformer],
  ])('%s: more ohms never give more volts', (_, make) => {
    fc.assert(
      // Without some resistance a transformer's inrush never dies away.
      fc.property(fc.double({ min: 0.05, max: 0.8, noNaN: true }), (ohms) => {
        const stiff = read({ ...supplied(make(steady), 240, ohms), seconds: 2 });
        const soft = read({ ...supplied(make(steady), 240, ohms + 0.1), seconds: 2 });
        expect(soft.volts).toBeLessThan(stiff.volts);
      }),
      { numRuns: 6 },
    );
  });
});

describe('arc', () => {
  const work = scenarioByName('healthy-steel')!.bays[0]!.work;
  /** Mean of the share, and falls below 0.8 a second, over some seconds of burning. */
  function burn(process: 'short-circuit' | 'pulse' | 'braze', seconds: number) {
    const arc = new Arc({ ...work, process }, new Random(4, 'arc'));
    arc.strike();
    let sum = 0;
    let dips = 0;
    let low = false;
    let hot = 0;
    for (let step = 0; step < seconds * stepsPerSecond; step++) {
      arc.step();
      sum += arc.share;
      if (step < 0.02 * stepsPerSecond) hot += arc.share;
      if (arc.share < 0.8 && !low) dips += 1;
      low = arc.share < (low ? 0.9 : 0.8);
    }
    const mean = sum / seconds / stepsPerSecond;
    return { mean, dipsPerS: dips / seconds, hot: hot / 0.02 / stepsPerSecond };
  }

  test.each(['short-circuit', 'pulse', 'braze'] as const)('%s keeps its set power', (process) => {
    expect(burn(process, 20).mean).toBeCloseTo(1, 1);
  });

  test('bridges 20 to 200 times a second', () => {
    const { dipsPerS } = burn('short-circuit', 10);
    expect(dipsPerS).toBeGreaterThan(60);
    expect(dipsPerS).toBeLessThan(140);
  });

  test('begins hot', () => {
    expect(burn('short-circuit', 0.5).hot).toBeGreaterThan(1.15);
  });
});
