import { describe, expect, it } from 'vitest';
import type { DestructiveTest, Procedure, VisualTest } from '../../shared/protocol/jobs.ts';
import { readNewSetUp } from '../../shared/protocol/read-jobs.ts';
import { judgeCoupon } from '../../shared/rules/coupon.ts';
import { couponBand } from '../../shared/rules/coupon-band.ts';
import { couponStale } from '../../shared/rules/coupon-stale.ts';
import { heat } from '../../shared/rules/heat.ts';
import { say } from '../../shared/rules/say.ts';
import { readClock, usualSetUp } from '../../shared/rules/set-up-time.ts';
import { voltageClass } from '../../shared/rules/voltage-class.ts';
import { arc, channel, evidence, setting } from './given.ts';

const procedure: Procedure = { reference: 'SP-7', leastButton: { mm: 5 }, leastSize: { mm: 7 } };
const visual: VisualTest = {
  undercut: { pass: true },
  porosity: { pass: true },
  burnThrough: { pass: true },
  size: { pass: true, measured: { mm: 7.5 } },
};
const destructive: DestructiveTest = {
  ...{ method: 'peel', buttonLeft: true, button: { inches: 0.22 }, pass: true },
};
const facts = { procedure, arcs: 2, visual, destructive, changed: false };
const whats = (of: Parameters<typeof judgeCoupon>[0]) => {
  const { outcome, reasons } = judgeCoupon(of);
  return [outcome, ...reasons.map(({ what, why }) => `${what} ${why}`)];
};

describe('a coupon', () => {
  it('passes when both tests were done and passed, in whatever unit', () => {
    expect(whats(facts)).toEqual(['passed']);
  });

  it('is unfinished until both were done, an arc is its own, and limits were measured', () => {
    expect(whats({ ...facts, visual: null, destructive: null, arcs: 0 })).toEqual([
      ...['unfinished', 'arcs missing', 'visual missing', 'destructive missing'],
    ]);
    const { button: _, ...unmeasured } = destructive;
    expect(whats({ ...facts, destructive: unmeasured })).toEqual(['unfinished', 'button missing']);
    expect(whats({ ...facts, changed: true })).toEqual(['unfinished', 'machine changed']);
  });

  it('fails by what was measured, whatever was said of it', () => {
    const small = { ...destructive, button: { mm: 4.9 } };
    expect(whats({ ...facts, destructive: small })).toEqual(['failed', 'button measured']);
    const [reason] = judgeCoupon({ ...facts, destructive: small }).reasons;
    expect(reason!.says).toContain('4.9 mm measured, the procedure says 5 mm');
    expect(whats({ ...facts, destructive: { ...small, button: { mm: 5 } } })).toEqual(['passed']);
  });

  it('fails by what was said, and where no button was left', () => {
    const porous = { ...visual, porosity: { pass: false } };
    expect(whats({ ...facts, visual: porous })).toEqual(['failed', 'porosity said']);
    const clean = { ...destructive, buttonLeft: false };
    expect(whats({ ...facts, destructive: clean })).toEqual(['failed', 'button said']);
  });

  it('is held to no limit that the procedure does not give', () => {
    const open = { ...facts, procedure: { reference: 'SP-8' } };
    expect(whats({ ...open, destructive: { method: 'bend', pass: true } })).toEqual(['passed']);
  });
});

describe('its band', () => {
  const of = (meanWatts: number, durationS: number) => ({
    ...{ durationS, channels: [channel({ meanWatts })] },
  });
  const accuracy = { volts: 0.006, halfCycleVolts: 0.01, amps: 0.008 };

  it('reaches over its arcs, widened by what the sensor may err; tacks are left out', () => {
    const band = couponBand([of(5_000, 2), of(5_200, 3), of(9_000, 0.3)], accuracy)!;
    expect(band.watts[0]).toBeCloseTo(4_950, 6);
    expect(band.watts[1]).toBeCloseTo(5_252, 6);
    expect(couponBand([of(9_000, 0.3)], accuracy)).toBeNull();
  });

  it('is not there, and the heat says why', () => {
    const [finding] = heat.ask({
      ...setting({ couponNote: say('couponLacking') }),
      arc: arc(),
    });
    expect(finding).toMatchObject({ verdict: 'unproven', required: false });
    expect(finding!.says).toBe(say('couponLacking').says);
    expect(finding!.saying).toEqual({ name: 'couponLacking', figures: {} });
  });
});

describe('the procedure asks for a class of machine', () => {
  const ask = (machineVolts: number) =>
    voltageClass.ask({
      ...evidence(),
      ...setting({
        work: {
          ...{ process: 'mig-steel', pulse: false, wireInches: 0.8 / 25.4 },
          asked: { machineVolts, reference: 'SP-7' },
        },
        plate: { ...setting().plate!, wireInches: [0.03] },
      }),
    });

  it('and the plate is held to it; 0.8 mm wire is the 0.030 in of the plate', () => {
    expect(ask(240).every(({ verdict }) => verdict === 'adequate')).toBe(true);
    const worst = ask(400).find(({ verdict }) => verdict === 'underpowered');
    expect(worst).toMatchObject({ measured: 240, limit: 400, required: true });
    expect(worst!.says).toContain('SP-7');
  });
});

describe('the clock', () => {
  const at = (minute: number) => new Date(minute * 60_000).toISOString();

  it('adds its runs, and shows one that went on too long', () => {
    const runs = [
      { from: at(0), to: at(10) },
      { from: at(30), to: null },
    ];
    expect(readClock(runs, 40 * 60_000)).toEqual({ seconds: 1_200, running: true, long: false });
    expect(readClock(runs, 400 * 60_000).long).toBe(true);
    expect(readClock([{ from: at(9), to: at(3) }], 0).seconds).toBe(0);
  });

  it('is shown beside what is common, marked as without a source', () => {
    expect(usualSetUp('mig-steel')).toMatchObject({ minutes: [10, 20] });
    expect(usualSetUp('mig-aluminium')!.source).toContain('no source');
    expect(usualSetUp('mig-braze')).toBeNull();
  });
});

it('a coupon goes stale by machine, circuit, cord or place of the sensor, not by order', () => {
  const circuit = { name: 'Bay 1', volts: 240, cords: [{ awg: 10 as const, feet: 25 }] };
  const hung = { plate: setting().plate, circuit, sensorAt: 'machine' as const };
  expect(couponStale(hung, structuredClone(hung))).toEqual([]);
  const other = { ...circuit, cords: [{ awg: 12 as const, feet: 50 }] };
  expect(couponStale(hung, { ...hung, circuit: other })[0]?.says).toContain('50 ft of 12 AWG');
  expect(couponStale(hung, { ...hung, plate: null })[0]?.says).toContain('no machine named');
  expect(couponStale(hung, { ...hung, sensorAt: 'outlet' })).toHaveLength(1);
});

it('a sheet is refused by path', () => {
  const sheet = {
    work: {
      ...{ process: 'mig-steel', joint: 'plug', pulse: false, position: 'flat' },
      sheets: [
        { metal: 'HSS', thick: { mm: 1, inches: 0.04 } },
        { metal: 'HSS', thick: {} },
      ],
    },
    procedure: { reference: 'SP\u0007' },
  };
  const read = readNewSetUp({ sensor: 'a.b', sheet, by: 'Ida' });
  expect(read.ok).toBe(false);
  const paths = read.ok ? [] : read.faults.map(({ path }) => path);
  expect(paths).toEqual([
    'sheet.work.sheets[0].thick',
    'sheet.work.sheets[1].thick',
    'sheet.procedure.reference',
  ]);
});
