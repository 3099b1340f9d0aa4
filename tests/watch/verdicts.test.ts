import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import { headline } from '../../shared/rules/headline.ts';
import type { WatchedArc } from '../../shared/watch/contract.ts';
import { judged, plate120, plate240, verdictOf } from './judged.ts';
import { quietSupply, type Synth, samples } from './synth.ts';

const noisy = { noiseVolts: 0.1, noiseAmps: 0.02 };
const judge = (
  change: Partial<Synth>,
  given: Parameters<typeof judged>[2] = { plate: plate240 },
) => {
  const synth = { ...quietSupply, ...noisy, ...change };
  return judged(synth.rateHz, samples(synth), given);
};
const long = [
  { startS: 1.2, endS: 3, amps: 24 },
  { startS: 4, endS: 6.5, amps: 24 },
];

describe('the verdict on a stream', () => {
  test('a good circuit is adequate, arc and recording', () => {
    const judgement = judge({ arcs: long });
    expect(judgement.verdict).toBe('adequate');
    expect(judgement.arcs.map((arc) => arc.verdict)).toEqual(['adequate', 'adequate']);
    expect(judgement.nominal).toEqual({ volts: 240, hertz: 60 });
  });

  test('a long thin cord is underpowered, and the sentence says by how much', () => {
    const judgement = judge(
      { volts: 120, ohmsR: 0.9, arcs: [{ startS: 1.2, endS: 4.4, amps: 18 }], lag: 0 },
      { plate: plate120 },
    );
    expect(judgement.verdict).toBe('underpowered');
    expect(judgement.arcs[0]!.verdict).toBe('underpowered');
    expect(headline('underpowered', judgement.arcs[0]!.findings)).toMatch(
      /^Underpowered: (the voltage fell to 104 V at 18 A; the plate needs 108 V|at the plate's)/,
    );
    const plateVoltage = judgement.findings.find((each) => each.rule === 'plate-voltage')!;
    expect(plateVoltage.says).toBe('The voltage fell to 104 V at 18 A; the plate needs 108 V.');
    expect(plateVoltage.limit).toBe(108);
    expect(plateVoltage.margin).toBeCloseTo(-4.2, 0);
    expect(verdictOf(judgement, 'sag')).toEqual(['marginal']);
    expect(judgement.sags).toHaveLength(1);
    expect(judgement.sags[0]!.category).toBe('temporary sag');
  });

  test('a light bead never vouches for a heavy weld', () => {
    const good = judge({ arcs: [{ startS: 1.2, endS: 4.4, amps: 6 }] });
    expect(verdictOf(good, 'full-load')).toEqual(['unproven']);
    expect(good.verdict).toBe('unproven');
    const weak = judge({ ohmsR: 1.2, arcs: [{ startS: 1.2, endS: 4.4, amps: 6 }] });
    expect(verdictOf(weak, 'plate-voltage')).toEqual(['adequate']);
    expect(verdictOf(weak, 'full-load')).toEqual(['underpowered']);
    expect(weak.verdict).toBe('underpowered');
  });

  test('208 V under a 240 V plate is named, and the limit stays that of 240 V', () => {
    const judgement = judge({ volts: 208 });
    const named = judgement.findings.find((each) => each.rule === 'voltage-class')!;
    expect(named.verdict).toBe('underpowered');
    expect(named.says).toMatch(/208 V supply under a 240 V plate: 13.3 % under/);
    expect(judgement.findings.find((each) => each.rule === 'plate-voltage')!.limit).toBe(216);
    const both = {
      ...plate240,
      supply: [...plate240.supply, { U1: 208, I1max: 34, I1eff: 17 }],
    };
    expect(judge({ volts: 208 }, { plate: both }).verdict).toBe('adequate');
  });

  test('of several supplies the nearest applies', () => {
    const dual = { ...plate240, supply: [...plate120.supply, ...plate240.supply] };
    const low = judge(
      { volts: 118, arcs: long.map((each) => ({ ...each, amps: 12 })) },
      {
        plate: dual,
      },
    );
    expect(low.findings.find((each) => each.rule === 'plate-voltage')!.limit).toBe(108);
    expect(low.nominal.volts).toBe(120);
  });

  test('without a plate it is measured, its dips are told, and it is unproven', () => {
    const judgement = judge({ ohmsR: 1.4, arcs: long }, {});
    expect(judgement.verdict).toBe('unproven');
    expect(judgement.arcs.map((arc) => arc.verdict)).toEqual(['unproven', 'unproven']);
    expect(judgement.sags).toHaveLength(2);
    expect(judgement.nominal.volts).toBe(240);
    expect(headline(judgement.verdict, judgement.findings)).toMatch(/^Unproven: no rating plate/);
  });

  test('a current sensor the wrong way round vouches for nothing, and is told', () => {
    const [volts, amps] = samples({ ...quietSupply, ...noisy, arcs: long });
    const turned = [volts, amps.map((each) => -each)];
    const judgement = judged(quietSupply.rateHz, turned, { plate: plate240 });
    expect(judgement.verdict).toBe('unproven');
    expect(judgement.cautions[0]).toMatch(/wrong way round/);
  });

  test('no nominal voltage fits: none is invented', () => {
    expect(judge({ volts: 160 }, {}).nominal.volts).toBeNull();
  });

  test('surges that strike no arc are attempts, the first may be the machine switched on', () => {
    const surge = (startS: number) => ({ startS, endS: startS + 0.06, amps: 45 });
    const soft = { ohmsR: 1, seconds: 5 };
    const often = judge({ ...soft, arcs: [1, 2, 3].map(surge) });
    expect(often.arcs).toEqual([]);
    expect(verdictOf(often, 'strike-voltage')).toEqual(['underpowered']);
    expect(often.verdict).toBe('underpowered');
    expect(headline(often.verdict, often.findings)).toMatch(/3 times current surged/);
    expect(verdictOf(judge({ ...soft, arcs: [surge(1)] }), 'strike-voltage')).toEqual([]);
    // The dip at the strike of an arc that burned is that arc's.
    const struck = [surge(1), { startS: 1.06, endS: 3, amps: 12 }];
    expect(verdictOf(judge({ ...soft, arcs: struck }), 'strike-voltage')).toHaveLength(1);
  });

  test('no arc proves nothing', () => {
    const judgement = judge({ arcs: [] });
    expect(judgement.arcs).toEqual([]);
    expect(judgement.verdict).toBe('unproven');
    expect(judgement.duty.highestFraction).toBeNull();
  });

  test('an outlet sensor takes the cord off, a machine-end sensor does not', () => {
    const at = (sensorAt: 'outlet' | 'machine') => {
      const circuit: Circuit = {
        name: 'bay',
        volts: 240,
        cords: [{ awg: 12, feet: 100 }],
        sensorAt,
      };
      const judgement = judge({ arcs: long }, { plate: plate240, circuit });
      return judgement.findings.find((each) => each.rule === 'plate-voltage')!.measured!;
    };
    // 200 ft of 12 AWG at 40 °C is 0.35 Ω: at 24 A and power factor 0.97, 8 V.
    expect(at('machine') - at('outlet')).toBeGreaterThan(7.5);
    expect(at('machine') - at('outlet')).toBeLessThan(8.6);
  });

  test('something else on a dedicated circuit is found, and only there is it required', () => {
    const steps = [{ atS: 7, factor: 0.98 }];
    const circuit: Circuit = { name: 'bay', volts: 240, dedicated: true };
    const shared = judge({ arcs: long, seconds: 9, steps }, { plate: plate240, circuit });
    expect(verdictOf(shared, 'other-load')).toEqual(['marginal']);
    expect(shared.verdict).toBe('marginal');
    const open = judge({ arcs: long, seconds: 9, steps });
    expect(verdictOf(open, 'other-load')).toEqual(['marginal']);
    expect(open.verdict).toBe('adequate');
    expect(judge({ arcs: long }, { plate: plate240, circuit }).verdict).toBe('adequate');
  });

  test('while it burns the arc so far is judged every 200 ms', () => {
    const synth = { ...quietSupply, ...noisy, volts: 230, ohmsR: 1 };
    const told: WatchedArc[] = [];
    const began: number[] = [];
    judged(
      synth.rateHz,
      samples(synth),
      { plate: plate240 },
      {
        arcBegan: (start) => began.push(start),
        arcGoesOn: (arc) => told.push(arc),
      },
    );
    expect(began).toHaveLength(1);
    expect(told.length).toBeGreaterThanOrEqual(14);
    expect(told.length).toBeLessThanOrEqual(17);
    // 1.2 s to the first word: attack, and the sync's own delay.
    expect(told[0]!.end / synth.rateHz).toBeLessThan(1.2 + 0.35);
    expect(told[0]!.arc.verdict).toBe('underpowered');
  });
});

describe('legs and phases', () => {
  /** Pairs as a sensor at 10 240/s sees them, each its own supply. */
  const pairs = (...each: Partial<Synth>[]) =>
    each.flatMap((change, index) =>
      samples({ ...quietSupply, ...noisy, arcs: long, ...change }, index + 1),
    );

  test('two legs of 120 V are a 240 V supply', () => {
    const leg = { volts: 120, ohmsR: 0.06, ohmsX: 0.02 };
    const judgement = judged(10_240, pairs({ ...leg }, { ...leg, phase: 0.7 + Math.PI }), {
      plate: plate240,
    });
    expect(judgement.nominal.volts).toBe(240);
    expect(judgement.verdict).toBe('adequate');
    const finding = judgement.findings.find((each) => each.rule === 'plate-voltage')!;
    expect(finding.measured).toBeGreaterThan(232);
    expect(verdictOf(judgement, 'phases')).toEqual(['adequate']);
  });

  test('one leg up and the other down: the neutral, stop', () => {
    const judgement = judged(
      10_240,
      pairs({ volts: 131 }, { volts: 109, phase: quietSupply.phase + Math.PI }),
      { plate: plate240 },
    );
    const finding = judgement.findings.find((each) => each.rule === 'phases')!;
    expect(finding.verdict).toBe('underpowered');
    expect(finding.says).toMatch(/neutral.*Stop and call an electrician/);
    expect(judgement.cautions[0]).toMatch(/failing neutral: stop/);
  });

  test('three phases to neutral feed a 208 V three-phase plate; a lost one is told', () => {
    const plate = { ...plate240, phases: 3 as const, supply: [{ U1: 208, I1max: 28, I1eff: 15 }] };
    const phase = (turn: number, volts = 120) => ({
      volts,
      ohmsR: 0.05,
      ohmsX: 0.02,
      phase: turn,
    });
    const third = (2 * Math.PI) / 3;
    const whole = judged(10_240, pairs(phase(0), phase(-third), phase(third)), { plate });
    expect(whole.nominal.volts).toBe(208);
    expect(whole.verdict).toBe('adequate');
    const lost = judged(10_240, pairs(phase(0), phase(-third), phase(third, 20)), { plate });
    const finding = lost.findings.find((each) => each.rule === 'phases')!;
    expect(finding.verdict).toBe('underpowered');
    expect(finding.says).toMatch(/Phase 3 is missing/);
  });
});
