import { describe, expect, test } from 'vitest';
import { behindOhms } from '../../shared/rules/cord-drop.ts';
import { fullLoadVolts, loadedVolts } from '../../shared/rules/foretell.ts';
import { setting, supply, view } from './given.ts';

const load = (openVolts: number, ohmsR: number, ohmsX = 0, lagRadians = 0) => ({
  openVolts,
  ohmsR,
  ohmsX,
  lagRadians,
  fundamentalShare: 1,
});

describe('the voltage foretold at full load', () => {
  test('W14: constant power behind a resistance', () => {
    const at = (open: number, ohms: number, watts: number, rated: number) =>
      loadedVolts(load(open, ohms), watts / rated, rated, 'constant-power');
    expect(at(240, 0.13, 7_600, 240)).toBeCloseTo(235.81, 2);
    expect(at(240, 0.45, 7_600, 240)).toBeCloseTo(224.79, 2);
    expect(at(120, 0.5, 2_000, 120)).toBeCloseTo(110.99, 2);
  });

  test('W13: 40 A at 0.8 lagging behind 0.2 + j0.05 Ω falls 7.6 V', () => {
    const volts = loadedVolts(load(240, 0.2, 0.05, Math.acos(0.8)), 40, 240, 'unknown');
    expect(240 - volts).toBeCloseTo(7.6, 3);
    // The exact phasor says 7.621 V: 0.3 % of the drop.
    expect(Math.abs(240 - volts - 7.621) / 7.621).toBeLessThan(0.003);
  });

  test('a constant impedance takes less where the voltage is lower', () => {
    const volts = loadedVolts(load(240, 0.5), 30, 240, 'constant-impedance');
    expect(volts).toBeCloseTo((240 * 8) / 8.5, 6);
  });

  test('a supply that cannot carry the load collapses', () => {
    expect(loadedVolts(load(240, 3), 30, 240, 'constant-power')).toBe(0);
  });

  test('the exact drop of a resistance for any waveform', () => {
    // v = 100√2·sin, i a square wave in phase: V² − 2RP + R²I².
    const count = 20_000;
    let [vv, ii, vi, behind] = [0, 0, 0, 0];
    for (let n = 0; n < count; n++) {
      const phase = (2 * Math.PI * (n + 0.5)) / count;
      const v = 100 * Math.SQRT2 * Math.sin(phase);
      const i = 10 * Math.sign(Math.sin(phase));
      vv += v * v;
      ii += i * i;
      vi += v * i;
      behind += (v - 0.7 * i) ** 2;
    }
    const rms = (sum: number) => Math.sqrt(sum / count);
    expect(behindOhms(rms(vv), rms(ii), vi / count, 0.7)).toBeCloseTo(rms(behind), 9);
  });

  test('the interval holds the spread of E, R and X, and the cord’s temperature', () => {
    const exact = { volts: 0, halfCycleVolts: 0, amps: 0 };
    const bare = fullLoadVolts(setting({ accuracy: exact }), { U1: 240, I1max: 30 }, supply())!;
    expect(bare.lo).toBeLessThan(bare.value);
    expect(bare.hi).toBeGreaterThan(bare.value);
    // 2 sigma of R, 6 mΩ at 30 A and a little more, and of E.
    expect(bare.hi - bare.value).toBeCloseTo(0.3, 1);
    const circuit = { name: 'c', volts: 240, cords: [{ awg: 12, feet: 50 }] };
    const corded = setting({ circuit, accuracy: exact });
    const sensed = fullLoadVolts(setting(), { U1: 240, I1max: 30 }, supply())!;
    expect(sensed.hi - sensed.value).toBeCloseTo(Math.hypot(bare.hi - bare.value, 1.18), 1);
    const behind = fullLoadVolts(corded, { U1: 240, I1max: 30 }, supply())!;
    expect(behind.hi - behind.lo).toBeGreaterThan(bare.hi - bare.lo);
    // 100 ft of conductor at 40 °C: 0.176 Ω, 5.3 V at 30 A, and more as the machine draws more.
    expect(bare.value - behind.value).toBeGreaterThan(5);
    expect(bare.value - behind.value).toBeLessThan(6);
  });

  test('an unknown machine is taken for the worse one at the lower end', () => {
    const exact = setting({ accuracy: { volts: 0, halfCycleVolts: 0, amps: 0 } });
    const at = (behaviour: 'unknown' | 'constant-power') =>
      fullLoadVolts(exact, { U1: 240, I1max: 30 }, { pairs: [view({ ohmsR: 0.6 })], behaviour })!;
    expect(at('unknown').lo).toBeCloseTo(at('constant-power').lo, 9);
    expect(at('unknown').value).toBeGreaterThan(at('constant-power').value);
  });

  test('of two legs the loop is both wires’; of three phases each line falls by one’s', () => {
    const exact = { openVoltsSd: 0, ohmsX: 0, lagRadians: 0 };
    const legs = setting({ pairs: 2, loops: [2] });
    const loop = view({ ...exact, openVolts: 240, ohmsR: 0.1 });
    const two = { pairs: [loop], behaviour: 'unknown' as const };
    expect(fullLoadVolts(legs, { U1: 240, I1max: 30 }, two)!.value).toBeCloseTo(237, 9);
    const wye = setting({ pairs: 3, loops: [3, 4, 5], ampsPerLine: Math.sqrt(3) });
    const line = view({ ...exact, openVolts: 120 * Math.sqrt(3), ohmsR: 0.05 });
    const three = { pairs: [line, line, line], behaviour: 'unknown' as const };
    expect(fullLoadVolts(wye, { U1: 208, I1max: 30 }, three)!.value).toBeCloseTo(
      118.5 * Math.sqrt(3),
      9,
    );
    // A machine of one phase on two of three lines: its current falls on both.
    const pair = setting({ pairs: 3, loops: [3], ampsPerLine: 2 });
    const on = { pairs: [line], behaviour: 'unknown' as const };
    expect(fullLoadVolts(pair, { U1: 208, I1max: 30 }, on)!.value).toBeCloseTo(
      120 * Math.sqrt(3) - 3,
      9,
    );
  });
});
