import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Finding, Judgement } from '../../shared/protocol/judgement.ts';
import { judged, plate240 } from './judged.ts';
import { gaussian, quietSupply, type Synth, samples } from './synth.ts';

const dedicated: Circuit = { name: 'bay', volts: 240, dedicated: true, breakerAmps: 50 };
const noisy = { noiseVolts: 0.2, noiseAmps: 0.05 };
const arcs = [
  { startS: 1.2, endS: 4.4, amps: 24 },
  { startS: 7, endS: 9.5, amps: 24 },
];
const base: Synth = { ...quietSupply, ...noisy, seconds: 18, arcs };

function judge(change: Partial<Synth>, circuit: Circuit = dedicated, seed = 1): Judgement {
  return judged(10_240, samples({ ...base, ...change }, seed), { plate: plate240, circuit });
}

const found = ({ findings }: Pick<Judgement, 'findings'>): Finding[] =>
  findings.filter(({ rule }) => rule === 'other-load');

/** One hot leg each, in phase opposition: the same supply seen leg by leg. */
function legs(change: Partial<Synth>, seed: number): Float64Array[] {
  const leg = { ...base, volts: 120, ohmsR: 0.06, ohmsX: 0.02, ...change };
  const other = { ...leg, phase: leg.phase + Math.PI };
  return [...samples(leg, seed), ...samples(other, seed + 500)];
}

describe('one sensor on a dedicated circuit', () => {
  test.each([
    ['a heater elsewhere in the building, 0.8 V of 240', 0.9967],
    ['a step of 0.6 V', 0.9975],
    ['a tap of the utility, 5/8 % down', 1 - 0.00625],
    ['a tap of the utility, 5/8 % up', 1 + 0.00625],
  ])('%s: information, and the circuit stays adequate', (_what, factor) => {
    for (let seed = 1; seed <= 5; seed++)
      for (const atS of [5.6, 8.1, 12]) {
        const judgement = judge({ steps: [{ atS, factor }] }, dedicated, seed);
        expect(found(judgement)).toMatchObject([{ verdict: 'adequate', required: true }]);
        expect(found(judgement)[0]!.says).toContain(factor < 1 ? 'fell by' : 'rose by');
        expect(judgement.verdict).toBe('adequate');
      }
  });

  test('so does it on two legs that are moved alike', () => {
    for (let seed = 1; seed <= 3; seed++) {
      const channels = legs({ steps: [{ atS: 12, factor: 1 - 0.00625 }] }, seed);
      const judgement = judged(10_240, channels, { plate: plate240, circuit: dedicated });
      for (const each of found(judgement)) expect(each.verdict).toBe('adequate');
      expect(judgement.verdict).toBe('adequate');
    }
  });

  test('a living building: a step every other second, none over 0.7 %', () => {
    for (let seed = 1; seed <= 6; seed++) {
      const draw = gaussian(seed + 77);
      let factor = 1;
      const steps = Array.from({ length: 8 }, (_, n) => {
        const next = 1 + Math.max(-0.0035, Math.min(0.0035, 0.003 * draw()));
        factor = next;
        return { atS: 1.6 + 2 * n + 0.3 * Math.tanh(draw()), factor };
      });
      expect(factor).not.toBe(1);
      const judgement = judge({ steps }, dedicated, seed);
      expect(judgement.verdict, found(judgement)[0]!.says).toBe('adequate');
      for (const arc of judgement.arcs) expect(arc.verdict).toBe('adequate');
    }
  });

  test.each([0.05, 0.1, 0.4])('a dip of %f s that comes back is a sag, no load', (seconds) => {
    for (const depth of [0.06, 0.16, 0.3])
      for (const atS of [5.6, 12]) {
        const steps = [
          { atS, factor: 1 - depth },
          { atS: atS + seconds, factor: 1 },
        ];
        const judgement = judge({ steps });
        expect(found(judgement)).toMatchObject([{ verdict: 'adequate' }]);
        expect(found(judgement)[0]!.says).toMatch(/dipped by .* came back/);
        // How far E scatters is asked by full-load, which a deep dip may leave in doubt.
        if (depth < 0.2) expect(judgement.verdict).toBe('adequate');
        expect(judgement.sags.length).toBe(depth > 0.1 ? 1 : 0);
      }
  });

  test('a step that lasts and is more than a building makes: marginal, never underpowered', () => {
    for (const factor of [0.985, 0.98, 1.02])
      for (const atS of [5.6, 8.1, 12]) {
        const judgement = judge({ steps: [{ atS, factor }] });
        expect(found(judgement)).toMatchObject([{ verdict: 'marginal', required: true }]);
        expect(judgement.verdict).toBe('marginal');
        const [{ says, electrician }] = found(judgement) as [Finding];
        expect(says).toContain('may');
        expect(electrician).toMatch(/second sensor on another circuit/);
        expect(electrician).toMatch(/[Ss]witch off/);
        expect(electrician).toMatch(/electrician/);
      }
  });

  test('a start far over what a building sees, and a load that stays: marginal', () => {
    // 5 % as it starts, dying away within half a second to 0.8 % that stay.
    const start = Array.from({ length: 30 }, (_, n) => ({
      atS: 5.6 + n / 60,
      factor: 1 - 0.008 - 0.042 * Math.max(0, 1 - n / 29),
    }));
    expect(found(judge({ steps: start }))).toMatchObject([{ verdict: 'marginal' }]);
  });

  test('more than its breaker could carry came from above: told in volts', () => {
    // 240 · 0.08 V over 0.126 Ω would be 152 A; the breaker must end 100 A within four minutes.
    const judgement = judge({ steps: [{ atS: 5.6, factor: 0.92 }] });
    const [{ verdict, says, electrician }] = found(judgement) as [Finding];
    expect(verdict).toBe('adequate');
    expect(says).toMatch(/50 A breaker/);
    expect(`${says} ${electrician}`).not.toMatch(/1\d\d A/);
    expect(says).toMatch(/19\.\d V/);
  });

  test('amperes at this outlet are told only where its breaker could carry them', () => {
    const told = (circuit: Circuit, factor: number) => {
      const [{ says, electrician }] = found(judge({ steps: [{ atS: 12, factor }] }, circuit)) as [
        Finding,
      ];
      return `${says} ${electrician}`;
    };
    // 0.02 · 240 V over |0.12 + 0.04j| Ω: 38 A.
    expect(told(dedicated, 0.98)).toMatch(/3[6-9] A/);
    expect(told({ ...dedicated, breakerAmps: 20 }, 0.98)).not.toMatch(/3[6-9] A/);
    const { breakerAmps: _, ...unknown } = dedicated;
    expect(told(unknown, 0.98)).not.toMatch(/3[6-9] A/);
  });

  test('on a circuit that others may share it is advice', () => {
    const shared = { ...dedicated, dedicated: false };
    const judgement = judge({ steps: [{ atS: 12, factor: 0.98 }] }, shared);
    expect(found(judgement)).toMatchObject([{ verdict: 'marginal', required: false }]);
    expect(judgement.verdict).toBe('adequate');
  });
});
