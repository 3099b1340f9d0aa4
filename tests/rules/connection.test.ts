import { describe, expect, test } from 'vitest';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { cautionsFor } from '../../shared/rules/cautions.ts';
import { connection } from '../../shared/rules/connection.ts';
import type { ConnectionEvidence, GeneratorEvidence } from '../../shared/rules/facts.ts';
import { fullLoadVolts } from '../../shared/rules/foretell.ts';
import { fullLoad } from '../../shared/rules/full-load.ts';
import { judgeArc, judgeRecording, worstOfArcs } from '../../shared/rules/judge.ts';
import { plateVoltage } from '../../shared/rules/plate-voltage.ts';
import { strikeVoltage } from '../../shared/rules/strike-voltage.ts';
import { waveform } from '../../shared/rules/waveform.ts';
import { arc, evidence, plate, setting, supply, view } from './given.ts';

const changed = (change: Partial<ConnectionEvidence> = {}): ConnectionEvidence => ({
  kind: 'grown',
  ohmsBefore: 0.1,
  ohmsAfter: 1.1,
  added95: [0.95, 1.05],
  amps: 20,
  sinceS: 12,
  confirmed: true,
  ...change,
});
const of = (ohmsR: number, change: Partial<ConnectionEvidence> = {}) => ({
  ...setting(),
  supply: { ...supply({ ohmsR }), connection: changed(change) },
});

describe('a connection that changes', () => {
  test('underpowered where full load, with the ohms as they are now, misses the plate', () => {
    const [finding] = connection.ask(of(1.1));
    expect(finding).toMatchObject({ verdict: 'underpowered', required: true, unit: 'W', limit: 5 });
    // I²·R: 20 A through 1 Ω.
    expect(finding!.measured).toBeCloseTo(400, 9);
    expect(finding!.interval).toEqual([380, 420]);
    expect(finding!.says).toMatch(/0\.10 Ω to 1\.10 Ω.*420 W.*Stop\. Do not weld.*electrician/);
  });

  test('unproven where it heats for certain, though the voltage still does: it grows', () => {
    const heating = { ohmsAfter: 0.2, added95: [0.08, 0.12] as const };
    expect(connection.ask(of(0.2, heating))[0]).toMatchObject({
      verdict: 'unproven',
      required: true,
    });
  });

  test('advice where less than a glowing contact is certain', () => {
    const little = { ohmsAfter: 0.12, added95: [0.01, 0.03] as const, amps: 15 };
    const [finding] = connection.ask(of(0.12, little));
    expect(finding).toMatchObject({ verdict: 'marginal', required: false });
    expect(finding!.says).not.toMatch(/Stop/);
  });

  test('what one arc has only begun to show proves nothing yet', () => {
    const [finding] = connection.ask(of(1.1, { confirmed: false }));
    expect(finding).toMatchObject({ verdict: 'unproven', required: true });
    expect(finding!.says).toMatch(/if it stays, a connection is failing/);
  });

  test('steady ohms say so; none known is not asked, and holds nothing down', () => {
    expect(connection.ask({ ...setting(), supply: supply() })[0]).toMatchObject({
      ...{ verdict: 'adequate', required: false },
    });
    const unknown = { pairs: [null], behaviour: 'unknown' as const };
    expect(connection.ask({ ...setting(), supply: unknown })[0]).toMatchObject({
      ...{ verdict: 'unproven', required: false },
    });
  });

  test('warns of the hot plug, underpowered or not', () => {
    const heating = { ohmsAfter: 0.2, added95: [0.08, 0.12] as const };
    const warned = (findings: Finding[]) => cautionsFor(setting(), findings).join(' ');
    expect(warned(connection.ask(of(0.2, heating)))).toMatch(/warm plug/);
    expect(warned(connection.ask({ ...setting(), supply: supply() }))).not.toMatch(/warm plug/);
  });

  test('without a plate its heat is told all the same', () => {
    const bare = { ...of(1.1), ...setting({ plate: null, rated: null }) };
    expect(connection.ask(bare)[0]!.verdict).toBe('unproven');
  });
});

describe('a recording is never better than its arcs', () => {
  const judged = (ohmsR: number) =>
    judgeArc(setting(), arc(), evidence({ supply: supply({ ohmsR }) })).findings;

  test('a full load that an arc missed stays missed, whatever the supply did later', () => {
    const arcs = worstOfArcs(worstOfArcs([], judged(1)), judged(0.1));
    const whole = judgeRecording(setting(), evidence(), arcs);
    expect(whole.verdict).toBe('underpowered');
    const ofLoad = whole.findings.filter(({ rule }) => rule === 'full-load');
    expect(ofLoad.map(({ verdict }) => verdict)).toEqual(['underpowered']);
  });

  test('a first tack too light to foretell from does not stand against the heavy weld', () => {
    const light = judgeArc(
      setting(),
      arc(),
      evidence({ supply: supply({ largestStepAmps: 4 }) }),
    ).findings;
    const whole = judgeRecording(
      setting(),
      evidence(),
      worstOfArcs(worstOfArcs([], light), judged(0.1)),
    );
    const ofLoad = whole.findings.filter(({ rule }) => rule === 'full-load');
    expect(ofLoad.map(({ verdict }) => verdict)).toEqual(['adequate']);
  });

  test('a connection that failed in one arc and held in the next is still told', () => {
    const failed = judgeArc(
      setting(),
      arc(),
      evidence({ supply: { ...supply({ ohmsR: 1.1 }), connection: changed() } }),
    ).findings;
    const whole = judgeRecording(
      setting(),
      evidence(),
      worstOfArcs(worstOfArcs([], failed), judged(0.1)),
    );
    expect(whole.findings.find(({ rule }) => rule === 'connection')!.verdict).toBe('underpowered');
  });
});

describe('what a forecast stands on', () => {
  const rated = { U1: 240, I1max: 30 };
  const exact = setting({ accuracy: { volts: 0, halfCycleVolts: 0, amps: 0 } });
  const lo = (change: Parameters<typeof supply>[0]) =>
    fullLoadVolts(exact, rated, supply({ varianceR: 0, varianceX: 0, openVoltsSd: 0, ...change }))!
      .lo;

  test('the lowest open-circuit voltage of the arcs, volt for volt', () => {
    const [high, low] = [lo({ openVoltsLow: 240 }), lo({ openVoltsLow: 230 })];
    expect(high - low).toBeGreaterThan(9.9);
    expect(high - low).toBeLessThan(10.5);
    expect(lo({})).toBeCloseTo(high, 9);
  });

  test('a fifth more for the wire that full load warms; a described wire has that in it', () => {
    const drop = lo({ largestStepAmps: null }) - lo({});
    // 0.2 · 0.1 Ω at 30 A and 0.2 rad, and a little more as the machine draws more.
    expect(drop).toBeGreaterThan(0.2 * 0.1 * 30 * Math.cos(0.2));
    expect(drop).toBeLessThan(1.1 * 0.2 * 0.1 * 30);
  });

  test('width grows with I1max over the step: twice the current, twice the half-width', () => {
    const width = (I1max: number) => {
      const far = { ...rated, I1max };
      const unsure = { ...supply({ openVoltsSd: 0, largestStepAmps: null }) };
      const { lo: from, hi } = fullLoadVolts(exact, far, { ...unsure, behaviour: 'unknown' })!;
      return hi - from;
    };
    expect(width(30) / width(15)).toBeGreaterThan(1.99);
  });

  test('R and X that trade off leave the drop along the load as sure as it was measured', () => {
    const angle = Math.PI / 4;
    const unsure = { varianceR: 1e-4, varianceX: 1e-4, lagRadians: angle, openVoltsSd: 0 };
    const width = (covarianceRX: number) => {
      const traded = supply({ ...unsure, covarianceRX, largestStepAmps: null });
      const { lo: from, hi } = fullLoadVolts(exact, rated, traded)!;
      return hi - from;
    };
    // At 45° the drop asks R + X only: what one lacks the other has.
    expect(width(-1e-4)).toBeLessThan(0.001);
    expect(width(1e-4)).toBeGreaterThan(1.4 * width(0));
  });

  test('of several loops the one with the smallest step says what is proven', () => {
    const loops = [view(), view({ largestStepAmps: 3 }), view()];
    const phases = { ...plate, phases: 3 as const };
    const three = { ...setting({ plate: phases, pairs: 3, loops: [0, 1, 2] }) };
    const ask = (pairs: typeof loops) =>
      fullLoad.ask({ ...three, supply: { ...supply(), pairs, loaded: [5, 5, 5] } })[0]!.verdict;
    expect(ask(loops)).toBe('unproven');
    expect(ask([view(), view(), view()])).toBe('adequate');
  });
});

describe('what full load is held against', () => {
  test('less measured than the estimate allows at that current: a contradiction, unproven', () => {
    // 240 V behind 0.1 Ω is 237.4 V at 26 A.
    const ask = (volts: number, measured = [[{ volts, amps: 26 }]]) =>
      fullLoad.ask({ ...setting(), supply: { ...supply(), measured } })[0]!;
    expect(ask(237)).toMatchObject({ verdict: 'adequate' });
    expect(ask(228)).toMatchObject({ verdict: 'unproven', required: true });
    expect(ask(228).says).toMatch(/only 228 V was measured there/);
    // A weak supply stays underpowered: a contradiction is no excuse.
    const weak = { ...supply({ ohmsR: 1 }), measured: [[{ volts: 200, amps: 26 }]] };
    expect(fullLoad.ask({ ...setting(), supply: weak })[0]!.verdict).toBe('underpowered');
  });

  test('a refused estimate says why', () => {
    const refused = [{ code: 'misses', params: { misses: 3, edges: 8 } }];
    const thin = { pairs: [null], behaviour: 'unknown' as const, refused };
    const [finding] = fullLoad.ask({ ...setting(), supply: thin });
    expect(finding).toMatchObject({ verdict: 'unproven', required: true });
    expect(finding!.electrician).toMatch(/3 of 8 load steps/);
  });
});

describe('a generator', () => {
  const generator = (change: Partial<GeneratorEvidence> = {}): GeneratorEvidence => ({
    hertzIdle: 60.5,
    hertzLow: 59.2,
    hertzHigh: 60.6,
    dip: 0.12,
    settled: [{ volts: 229, amps: 28 }],
    ...change,
  });
  const at = (change: Partial<GeneratorEvidence> = {}) => ({
    ...setting(),
    supply: { pairs: [null], behaviour: 'unknown' as const, generator: generator(change) },
  });

  test('foretells nothing: full load counts only where an arc was as heavy', () => {
    expect(fullLoad.ask(at())[0]).toMatchObject({ verdict: 'adequate', measured: 229 });
    const weak = at({ settled: [{ volts: 210, amps: 28 }] });
    expect(fullLoad.ask(weak)[0]!.verdict).toBe('underpowered');
    const light = at({ settled: [{ volts: 239, amps: 20 }] });
    expect(fullLoad.ask(light)[0]).toMatchObject({ verdict: 'unproven', required: true });
    expect(fullLoad.ask(at({ settled: null }))[0]!.verdict).toBe('unproven');
  });

  test('three phases: a loop carries √3 of the line amperes that the plate names', () => {
    const three = setting({ pairs: 3, loops: [3, 4, 5], ampsPerLine: Math.sqrt(3) });
    const settled = (amps: number) => [0, 1, 2].map(() => ({ volts: 230, amps }));
    const ask = (amps: number) => {
      const ofThree = { ...at({ settled: settled(amps) }).supply, pairs: [null, null, null] };
      return fullLoad.ask({ ...three, supply: ofThree })[0]!.verdict;
    };
    expect(ask(28 * Math.sqrt(3))).toBe('adequate');
    expect(ask(30)).toBe('unproven');
  });

  test('is named, with what size the machine needs, beside ISO 8528-5', () => {
    const seen = { hertzLow: 59.2, hertzHigh: 60.6, thdVoltsPercent: 2, crest: 1.41 };
    const [finding] = waveform.ask({ ...at(), waveform: seen });
    expect(finding).toMatchObject({ verdict: 'marginal', required: false });
    // 1.35 · 240 V · 30 A.
    expect(finding!.says).toMatch(/a generator: 59\.2 to 60\.6 Hz.*12\.0 %.*9\.7 kVA/);
    expect(finding!.electrician).toMatch(/class G3.*229 V/);
    const poor = waveform.ask({ ...at({ dip: 0.22 }), waveform: seen })[0]!;
    expect(poor.electrician).toMatch(/class G1/);
    const beyond = waveform.ask({ ...at({ dip: 0.3 }), waveform: seen })[0]!;
    expect(beyond.electrician).toMatch(/beyond class G1/);
    const three = { ...at(), ...setting({ plate: { ...plate, phases: 3 } }) };
    expect(waveform.ask({ ...three, waveform: seen })[0]!.says).toMatch(/16\.8 kVA/);
  });

  test('dips as the arc starts and is judged by what it settles at', () => {
    const dipped = arc({ minVolts200ms: 200, minVoltsHalfCycle: 190 });
    const settled = { ...dipped, settled: [{ volts: 229, amps: 28 }] };
    expect(plateVoltage.ask({ ...setting(), arc: dipped })[0]!.verdict).toBe('underpowered');
    expect(plateVoltage.ask({ ...setting(), arc: settled })[0]!.verdict).toBe('adequate');
    expect(strikeVoltage.ask({ ...setting(), arc: dipped })[0]!.required).toBe(true);
    expect(strikeVoltage.ask({ ...setting(), arc: settled })[0]).toMatchObject({
      ...{ verdict: 'marginal', required: false },
    });
    const low = { ...dipped, settled: [{ volts: 210, amps: 28 }] };
    expect(plateVoltage.ask({ ...setting(), arc: low })[0]!.verdict).toBe('underpowered');
  });
});
