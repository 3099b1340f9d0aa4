import { describe, expect, test } from 'vitest';
import { Duty } from '../../shared/metrology/duty.ts';
import { blankRow } from '../../shared/metrology/row.ts';

/** 1 000 samples a second, half cycles of ten: rows alone, no waveform. */
const rateHz = 1000;
const half = 10;

type Arc = readonly [start: number, end: number, amps: number];

/** Runs arcs given in seconds; they are told 100 ms late, as the detector does. */
function run(seconds: number, arcs: readonly Arc[], idleAmps = 0): Duty {
  const duty = new Duty({ rateHz, pairs: 1 });
  const row = blankRow(1);
  let next = 0;
  let told = false;
  for (let at = 0; at + half <= seconds * rateHz; at += half) {
    const t = at / rateHz;
    const now = arcs.find(([from, to]) => t >= from && t < to);
    row.start = at - half;
    row.middle = at;
    row.end = at + half;
    row.ihalf[0] = now ? now[2] : idleAmps;
    duty.halfCycle(row);
    const arc = arcs[next];
    if (arc && !told && t >= Math.min(arc[0] + 0.1, arc[1])) {
      duty.began(arc[0] * rateHz);
      told = true;
    }
    if (arc && told && t >= arc[1] + 0.1) {
      duty.ended(arc[0] * rateHz, arc[1] * rateHz);
      told = false;
      next += 1;
    }
  }
  if (told) duty.ended(arcs[next]![0] * rateHz, Math.min(arcs[next]![1], seconds) * rateHz);
  duty.end();
  return duty;
}

describe('the highest share of any ten minutes', () => {
  test('three minutes in ten are 30 %, and I1eff is √0.3 of the current', () => {
    const duty = run(600, [[100, 280, 20]]);
    expect(duty.highest).toBeCloseTo(0.3, 12);
    expect(duty.i1eff).toBeCloseTo(20 * Math.sqrt(0.3), 9);
    expect(duty.highestAt).toBe(600 * rateHz);
  });

  test('I1eff = √(I1²·X + I0²·(1 − X)) with an idle current', () => {
    const duty = run(600, [[100, 280, 20]], 2);
    expect(duty.i1eff).toBeCloseTo(Math.sqrt(400 * 0.3 + 4 * 0.7), 9);
  });

  test('the window slides: two arcs across a border of ten minutes count together', () => {
    const arcs: Arc[] = [
      [500, 590, 20],
      [610, 700, 30],
    ];
    const duty = run(1500, arcs);
    expect(duty.highest).toBeCloseTo(0.3, 12);
    // The first window that holds both whole ends at 700 s.
    expect(duty.highestAt).toBe(700 * rateHz);
    expect(duty.i1eff).toBeCloseTo(Math.sqrt((90 * 400 + 90 * 900) / 600), 9);
    expect(duty.current).toBeCloseTo(0, 12);
  });

  test('an arc of a quarter hour is 100 %', () => {
    expect(run(1000, [[50, 950, 20]]).highest).toBeCloseTo(1, 12);
  });

  test('many tacks add up', () => {
    const tacks = Array.from({ length: 300 }, (_, n): Arc => [n * 2, n * 2 + 0.3, 15]);
    expect(run(600, tacks).highest).toBeCloseTo(0.15, 9);
  });

  test('borders between half seconds are told to a part in 1 200', () => {
    const duty = run(1300, [[600.3, 780.3, 20]]);
    expect(Math.abs(duty.highest! - 0.3)).toBeLessThan(1 / 1200);
  });
});

describe('less than ten minutes', () => {
  test('has no share and no I1eff, but a bound', () => {
    const duty = run(300, [[100, 280, 20]]);
    expect(duty.highest).toBeNull();
    expect(duty.i1eff).toBeNull();
    expect(duty.current).toBeNull();
    expect(duty.onSamples).toBeCloseTo(180 * rateHz, 6);
    expect(duty.atLeast).toBeCloseTo(0.3, 9);
  });

  test('an arc that still burns is counted', () => {
    expect(run(30, [[20, 99, 20]]).onSamples / rateHz).toBeCloseTo(10, 6);
  });
});

test('an end that lies before what was counted is taken back', () => {
  const duty = new Duty({ rateHz, pairs: 1 });
  const row = blankRow(1);
  const rows = (from: number, to: number) => {
    for (let at = from * rateHz; at < to * rateHz; at += half) {
      row.middle = at;
      row.end = at + half;
      duty.halfCycle(row);
    }
  };
  rows(0, 10);
  duty.began(5 * rateHz);
  rows(10, 11);
  // Rows after a gap: what was counted in between is not true.
  rows(14, 20);
  duty.ended(5 * rateHz, 11 * rateHz);
  duty.end();
  expect(duty.onSamples / rateHz).toBeCloseTo(6, 9);
});
