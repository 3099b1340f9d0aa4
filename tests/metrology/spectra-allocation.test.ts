import { describe, expect, test } from 'vitest';
import { Flickermeter } from '../../shared/metrology/flicker.ts';
import { Frequency10s } from '../../shared/metrology/frequency-10s.ts';
import { Intervals } from '../../shared/metrology/intervals.ts';
import { blankRow } from '../../shared/metrology/row.ts';
import { Spectrum } from '../../shared/metrology/spectrum.ts';
import { collectionsOf } from './collections.ts';

const RATE = 10_240;
const BLOCK = 1024;

/** Intervals, spectra, frequency and flicker on exact 60.02 Hz borders; `leak` is the control. */
function chain(leak: boolean) {
  const kept: number[][] = [];
  let told = 0;
  const spectrum = new Spectrum(
    { rateHz: RATE, pairs: 1, nominalHertz: 60 },
    {
      spectrum: () => {
        told++;
      },
    },
  );
  const intervals = new Intervals(
    { rateHz: RATE, pairs: 1, nominalHertz: 60, startedAt: null },
    {
      basic: (row) => {
        spectrum.window(row);
      },
    },
  );
  const frequency = new Frequency10s({ rateHz: RATE, startedAt: null }, { frequency: () => {} });
  const flicker = new Flickermeter({ rateHz: RATE, lamp: '120V60Hz' });
  const row = blankRow(1);
  row.locked = true;
  row.uhalf[0] = row.urms[0] = 120;
  row.ihalf[0] = row.irms[0] = 20;
  row.whalf[0] = row.watts[0] = 2000;
  const half = RATE / 120.04;
  const turns = { v: new Float64Array(BLOCK), i: new Float64Array(BLOCK) };
  const channels = [turns.v, turns.i];
  // Not variables of the closure: a double there is an object each time it is set.
  const at = { sample: 0, border: new Float64Array(1).fill(half) };
  return {
    told: () => told,
    run(seconds: number) {
      const { border } = at;
      for (const end = at.sample + seconds * RATE; at.sample < end; at.sample += BLOCK) {
        for (let n = 0; n < BLOCK; n++) {
          const phase = (Math.PI * (at.sample + n)) / half;
          turns.v[n] = 170 * Math.sin(phase);
          turns.i[n] = 28 * Math.sin(phase - 0.4);
          if (leak) kept[n % 64] = [phase, turns.v[n]!];
        }
        spectrum.push(channels, BLOCK);
        flicker.push(turns.v, BLOCK);
        for (; border[0]! + 2 * half < at.sample + BLOCK; border[0]! += half) {
          row.start = border[0]! - half;
          row.middle = border[0]!;
          row.end = border[0]! + half;
          intervals.halfCycle(row);
          frequency.halfCycle(row);
        }
      }
    },
  };
}

describe('five minutes of spectra, intervals, frequency and flicker', () => {
  test('cause as good as no collection', async () => {
    const { run, told } = chain(false);
    // Until the compiler is done: interpreted code boxes its numbers.
    run(100);
    const before = told();
    // The fewer of two goes: what allocates does so in both.
    const first = await collectionsOf(() => run(300));
    const second = await collectionsOf(() => run(300));
    expect(Math.min(first, second)).toBeLessThanOrEqual(3);
    expect(told() - before).toBeGreaterThan(2 * 1490);
  });

  test('while a control that makes one object a sample causes many', async () => {
    const { run } = chain(true);
    run(20);
    expect(await collectionsOf(() => run(300))).toBeGreaterThan(10);
  });
});
