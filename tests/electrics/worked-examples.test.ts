import { describe, expect, test } from 'vitest';
import type { Arc } from '../../simulator/electrics/arc.ts';
import { Ladder, panel } from '../../simulator/electrics/ladder.ts';
import { PfcInverter } from '../../simulator/electrics/machines/pfc-inverter.ts';
import { parseScenario } from '../../simulator/electrics/parse-scenario.ts';
import { Random } from '../../simulator/electrics/random.ts';
import { healthySteel } from '../../simulator/electrics/scenarios/healthy.ts';
import { type Awg, Wire } from '../../simulator/electrics/wire.ts';
import { Wiring } from '../../simulator/electrics/wiring.ts';
import { Impedance, read } from './bench.ts';

/** Two conductors' volts, there and back, as the tables' examples count them. */
const loop = (awg: Awg, feet: number, celsius: number): number =>
  2 * new Wire({ awg, feet }, 'fixed').ohmsAt(celsius);

describe('worked examples on the simulated circuit', () => {
  test('W6: 100 ft of 16 AWG at 4 A and 24 V loses 4.0 V, 16.7 %', () => {
    const ohms = loop(16, 100, 75);
    expect(4 * ohms).toBeCloseTo(3.99, 2);
    // A resistor that takes 4 A of what is left.
    const left = read({ rms: 24, ohms, port: new Impedance(24 / 4 - ohms, 0) });
    expect(left.amps).toBeCloseTo(4, 3);
    expect((24 - left.volts) / 24).toBeCloseTo(0.167, 2);
  });

  test('W7: 200 ft of 8 AWG at 1.04 A on 480 V loses 0.272 V', () => {
    // The printed loop figure is 8 AWG stranded near 25 °C: 0.001308 ohm a foot.
    const ohms = loop(8, 200, 25);
    expect(ohms / 200).toBeCloseTo(0.001308, 5);
    const left = read({ rms: 480, ohms, port: new Impedance(480 / 1.04 - ohms, 0) });
    // The machine's own filter takes 22 mA beside the load: 6 mV more.
    expect(480 - left.volts - (ohms * 480) / 22_000).toBeCloseTo(0.272, 2);
  });

  test('W8: a load that loses 8 % is 38.4 V down at 480 V and 19.2 V at 240 V', () => {
    for (const [rms, down] of [
      [480, 38.4],
      [240, 19.2],
    ] as const) {
      const left = read({ rms, ohms: 0.8, port: new Impedance(9.2, 0) });
      expect(rms - left.volts).toBeCloseTo(down, 1);
    }
  });

  // 250 kcmil in steel, R 0.054 and X 0.052 ohm per 1000 ft: 0.0733 effective at 0.85.
  test('W9: effective impedance of a kilofoot at power factor 0.85', () => {
    const z = 480 / 100;
    const port = new Impedance(z * 0.85, z * Math.sqrt(1 - 0.85 ** 2));
    const left = read({ rms: 480, ohms: 0.054, ohmsX: 0.052, port });
    expect((480 - left.volts) / left.amps).toBeCloseTo(0.0733, 3);
  });

  test('W10: the drop is I·(R cos φ + X sin φ) with cos φ = 0.8', () => {
    const left = read({ rms: 240, ohms: 0.1, ohmsX: 0.05, port: new Impedance(6.4, 4.8) });
    const told = left.amps * (0.1 * 0.8 + 0.05 * 0.6);
    expect((240 - left.volts) / told).toBeCloseTo(1, 2);
  });

  test('W11: a load of 600 A on 5000 A of fault current, same angle, sags by 10.71 %', () => {
    const r = 240 / 5000;
    const part = 240 / 600;
    const port = new Impedance(part * 0.8, part * 0.6);
    const left = read({ rms: 240, ohms: r * 0.8, ohmsX: r * 0.6, port });
    expect(1 - left.volts / 240).toBeCloseTo(0.1071, 3);
  });

  test.each([
    [25, 0.0461],
    [50, 0.02304],
  ])('W12: a transformer of %s kVA at 2 per cent is %s ohm at 240 V', (kva, ohms) => {
    const supply = {
      kind: 'utility',
      ohmsR: 0,
      ohmsX: 0,
      transformer: { kva, percentZ: 2 },
    };
    const circuit = { name: 'none', volts: 240 };
    const bay = parseScenario({
      ...healthySteel,
      bays: [{ ...healthySteel.bays[0], circuit, supply }],
    }).bays[0]!;
    const ladder = new Ladder(1, []);
    new Wiring(bay, 60, ladder, null, new Random(1, 'w12'));
    const x = ladder.henries[panel]! * 2 * Math.PI * 60;
    expect(Math.hypot(ladder.ohms[panel]!, x)).toBeCloseTo(ohms, 4);
  });

  test('W13: 40 A at 0.8 lagging through 0.2 + j0.05 ohm falls by 7.621 V of 240', () => {
    // Z of the load that takes 40 A there: 232.379 V over 40 A.
    const z = 232.379 / 40;
    const port = new Impedance(z * 0.8, z * 0.6);
    const left = read({ rms: 240, ohms: 0.2, ohmsX: 0.05, port });
    expect(left.amps).toBeCloseTo(40, 2);
    expect(Math.abs(240 - left.volts - 7.621)).toBeLessThan(0.01);
  });

  test.each([
    [240, 0.13, 7600, 235.81, 32.23],
    [240, 0.45, 7600, 224.79, 33.81],
    [120, 0.5, 2000, 110.99, 18.02],
  ])('W14: %s V behind %s ohm under %s W of constant power', (rms, ohms, watts, volts, amps) => {
    const spec = {
      volts: rms,
      farads: 0.004,
      busVolts: 400,
      supplyAmps: 60,
      efficiency: 1,
      idleWatts: watts,
      maxAmps: 20,
      switchOnS: 0,
      dropFraction: 0.3,
      restartS: 1,
    };
    // The plate's idle power stands for the load: a steady one, without the arc's unrest.
    const port = new PfcInverter(spec, { burning: false, share: 0 } as Arc);
    const left = read({ rms, ohms, port, seconds: 3 });
    expect(left.watts / watts).toBeCloseTo(1, 2);
    expect(Math.abs(left.volts / volts - 1)).toBeLessThan(0.002);
    expect(Math.abs(left.amps / amps - 1)).toBeLessThan(0.01);
  });

  test.each<[Awg, number, number]>([
    [12, 11.88, 4.95],
    [10, 7.44, 3.1],
    [8, 4.67, 1.94],
    [6, 2.95, 1.23],
  ])('W15: 100 ft of %s AWG at 30 A and 240 V loses %s V, %s per cent', (awg, volts, percent) => {
    const ohms = loop(awg, 100, 75);
    const left = read({ rms: 240, ohms, port: new Impedance(240 / 30 - ohms, 0) });
    expect(left.amps).toBeCloseTo(30, 2);
    expect(Math.abs(240 - left.volts - volts)).toBeLessThan(0.03);
    expect((100 * (240 - left.volts)) / 240).toBeCloseTo(percent, 1);
  });
});
