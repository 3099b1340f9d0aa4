import { describe, expect, test } from 'vitest';
import type { Plate } from '../../shared/protocol/plate.ts';
import { judged, plate120, plate240, verdictOf } from './judged.ts';
import { quietSupply, type Synth, samples } from './synth.ts';

const record = (arcs: Synth['arcs']): Synth => ({
  ...quietSupply,
  seconds: Math.max(...arcs.map(({ endS }) => endS)) + 1.2,
  arcs,
  noiseVolts: 0.2,
  noiseAmps: 0.05,
});
const judge = (arcs: Synth['arcs'], plate: Plate = plate240) =>
  judged(quietSupply.rateHz, samples(record(arcs)), { plate });

describe('least evidence', () => {
  test('one tack of 0.2 s at 26 % of I1max does not prove 30 A', () => {
    const judgement = judge([{ startS: 1.5, endS: 1.7, amps: 7.8 }]);
    expect(judgement.verdict).toBe('unproven');
    expect(verdictOf(judgement, 'full-load')).toEqual(['unproven']);
  });

  test('nor does one of 0.2 s at 80 %; a bead of 1.2 s does', () => {
    expect(judge([{ startS: 1.5, endS: 1.7, amps: 24 }]).verdict).toBe('unproven');
    expect(judge([{ startS: 1.5, endS: 2.7, amps: 24 }]).verdict).toBe('adequate');
  });

  test('tacks add up to a bead, and stand by what came before them', () => {
    const tacks = [1.5, 2.8, 4.1].map((startS) => ({ startS, endS: startS + 0.4, amps: 24 }));
    const judgement = judge(tacks);
    expect(judgement.verdict).toBe('adequate');
    expect(judgement.arcs.map(({ verdict }) => verdict)).toEqual([
      'unproven',
      'unproven',
      'adequate',
    ]);
  });

  test('a 120 V machine on a sensor of two legs is proved by the leg that it hangs on', () => {
    const [volts, amps] = samples({ ...record([{ startS: 1.5, endS: 3, amps: 16 }]), volts: 120 });
    const other = volts.map((_, n) => {
      const turn = (2 * Math.PI * 60 * n) / quietSupply.rateHz + quietSupply.phase;
      return -Math.SQRT2 * 120 * Math.cos(turn);
    });
    const idle = amps.map((_, n) => 0.02 * Math.sin(n));
    const judgement = judged(quietSupply.rateHz, [volts, amps, other, idle], { plate: plate120 });
    expect(verdictOf(judgement, 'full-load')).toEqual(['adequate']);
    expect(judgement.verdict).toBe('adequate');
  });
});
