import { describe, expect, test } from 'vitest';
import type { RmsEvent } from '../../shared/metrology/rms-events.ts';
import { blankRow } from '../../shared/metrology/row.ts';
import { StrikeLog } from '../../shared/watch/strike-log.ts';
import { judged } from './judged.ts';
import { degrees, type Hangs, type Phasor, sampled, terminalVolts, type Wires } from './wires.ts';

const rateHz = 10_000;

/** One dip of a loop to `volts` with `amps` in it, from 1 s to `endS`. */
function dip(log: StrikeLog, volts: number, amps: number, endS = 1.05, idle = 1): void {
  const row = blankRow(3);
  row.urms.set([volts / 2, volts / 2, volts]);
  row.irms.fill(amps);
  row.watts.fill(volts * amps);
  log.during(row, { loops: [2], ampsPerLine: 1 }, idle);
  const event: RmsEvent = {
    ...{ kind: 'dip', start: rateHz, end: endS * rateHz, seconds: endS - 1, volts, reference: 240 },
    ...{ depth: 1 - volts / 240, startChannel: 2, endChannel: 2, extremeChannel: 2 },
    category: null,
  };
  log.dipEnded(event, false);
}

describe('an attempt that struck no arc', () => {
  test('came with a surge over what is idle, and keeps the loop’s own volts', () => {
    const log = new StrikeLog(rateHz);
    // A surge of 4 A over idle is somebody who welds; a fan's is not.
    dip(log, 190, 4.9);
    expect(log.evidence()).toEqual({ count: 0, worst: null });
    dip(log, 190, 5.1);
    expect(log.evidence()).toMatchObject({
      count: 1,
      worst: { minVoltsHalfCycle: 190, amps: 5.1 },
    });
    dip(log, 170, 60);
    dip(log, 180, 80);
    expect(log.evidence()).toMatchObject({ count: 3, worst: { minVoltsHalfCycle: 170, amps: 60 } });
  });

  test.each([
    [1.05, 1.24, 0],
    [1.05, 1.26, 1],
    [1.1, 1.29, 0],
  ])('a dip that ended at %s s and an arc at %s s: %s attempts', (endS, beganS, count) => {
    const log = new StrikeLog(rateHz);
    dip(log, 180, 60, endS);
    log.arcBegan(beganS * rateHz);
    expect(log.evidence().count).toBe(count);
  });

  test('the surge is a line’s: in three phases a loop has √3 of it', () => {
    const log = new StrikeLog(rateHz);
    const row = blankRow(6);
    row.urms.fill(150);
    row.irms.fill(8);
    const three = { loops: [3, 4, 5], ampsPerLine: Math.sqrt(3) };
    // 8 A are 4.6 A a line, and 1 A of idle leaves 3.6.
    log.during(row, three, 1);
    expect(log.evidence().count).toBe(0);
    row.irms.fill(9);
    log.during(row, three, 1);
    dip(log, 200, 0);
    expect(log.evidence()).toMatchObject({ count: 1, worst: { minVoltsHalfCycle: 150, amps: 9 } });
  });
});

const at = (size: number, ...angles: number[]): Phasor[] =>
  angles.map((angle) => [size, degrees(angle)]);
const one: Hangs = { kind: 'line', line: 0 };
const across: Hangs = { kind: 'lines', one: 0, other: 1 };
const three: Hangs = { kind: 'three' };

/** Surges of 50 ms at these moments; too short for an arc. */
const surges = (emfs: Phasor[], hangs: Hangs, ohmsR: number, amps: number, ...atS: number[]) => {
  const wires: Wires = {
    ...{ rateHz: 5_120, hertz: 60, seconds: 5, emfs, hangs, ohmsR, ohmsX: 0.01 },
    ...{ neutralOhms: ohmsR, amps, lag: 0, idleAmps: 0.3, noiseVolts: 0.05, noiseAmps: 0.02 },
    arcs: atS.map((startS) => ({ startS, endS: startS + 0.05 })),
  };
  return wires;
};
const plateOf = (U1: number, phases: 1 | 3) => ({
  ...{ name: 'drawn', phases, supply: [{ U1, I1max: 28 }] },
});

describe('failed strikes on one, two and three pairs', () => {
  const cases: [string, Phasor[], Hangs, number, 1 | 3][] = [
    ['one pair', at(240, 0), one, 240, 1],
    ['two legs of a split phase', at(120, 0, 180), across, 240, 1],
    ['two legs of a wye', at(120, 0, -120), across, 208, 1],
    ['one of two legs', at(120, 0, 180), one, 120, 1],
    ['three phases', at(120, 0, -120, 120), three, 208, 3],
    ['a high-leg delta', [...at(120, 0), ...at(207.8, 90), ...at(120, 180)], three, 240, 3],
  ];

  test.each(cases)('%s: what the strikes pulled down to is told', (_, emfs, hangs, U1, phases) => {
    // A fifth of U1 is gone at 80 A: there and back, or √3 of a line's.
    const ohms = (0.2 * U1) / 80 / (phases === 3 ? Math.sqrt(3) : 2);
    const plate = plateOf(U1, phases);
    const wires = surges(emfs, hangs, ohms, 80, 1.5, 2.5, 3.5);
    const { verdict, findings, arcs } = judged(wires.rateHz, sampled(wires, 1), { plate });
    expect(arcs).toEqual([]);
    const finding = findings.find(({ rule }) => rule === 'strike-voltage')!;
    expect(finding.verdict).toBe('underpowered');
    expect(verdict).toBe('underpowered');
    expect(finding.measured! / terminalVolts(wires, 80)).toBeCloseTo(1, 1.5);
    expect(finding.says).toMatch(/^3 times .* at (79|80|81) A/);
    // One may be the machine that was switched on.
    const once = surges(emfs, hangs, ohms, 80, 2.5);
    const alone = judged(once.rateHz, sampled(once, 1), { plate });
    expect(alone.findings.some(({ rule }) => rule === 'strike-voltage')).toBe(false);
  });

  test.each(cases)('%s: a supply that holds is not blamed', (_, emfs, hangs, U1, phases) => {
    const wires = surges(emfs, hangs, 0.02, 60, 1.5, 2.5, 3.5);
    const judgement = judged(wires.rateHz, sampled(wires, 1), { plate: plateOf(U1, phases) });
    expect(judgement.findings.some(({ rule }) => rule === 'strike-voltage')).toBe(false);
    expect(judgement.verdict).toBe('unproven');
  });

  test('what both lines draw when idle is no surge', () => {
    // 1.2 A of idle on each of two lines are 1.7 A to the detector; 5.45 A are 4.25 A over a line.
    const wires = { ...surges(at(120, 0, 180), across, 3.5, 5.45, 1.5, 2.5, 3.5), idleAmps: 1.2 };
    const { findings } = judged(wires.rateHz, sampled(wires, 1), { plate: plateOf(240, 1) });
    expect(findings.find(({ rule }) => rule === 'strike-voltage')?.says).toMatch(/^3 times /);
  });

  test('a leg that a small load pulls down is not the machine’s voltage', () => {
    // 30 A on one leg alone take 15 V of its 120: the machine across both still has 225 V.
    const wires = surges(at(120, 0, 180), one, 0.25, 30, 1.5, 2.5, 3.5);
    const judgement = judged(wires.rateHz, sampled(wires, 1), { plate: plateOf(240, 1) });
    expect(judgement.findings.some(({ rule }) => rule === 'strike-voltage')).toBe(false);
    expect(judgement.sags).toEqual([]);
  });
});
