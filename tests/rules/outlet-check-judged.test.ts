import { describe, expect, test } from 'vitest';
import type { CheckResult } from '../../shared/protocol/outlet-check.ts';
import { choicesOf } from '../../shared/rules/outlet-check.ts';
import { checkRecording } from '../../shared/rules/outlet-check-recording.ts';
import type { OutletCheck } from '../../shared/rules/outlet-check-state.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import {
  about,
  bead,
  choose,
  circuit,
  corded,
  first,
  full,
  start,
  through,
  weld,
} from './check-given.ts';
import { setting, supply } from './given.ts';

describe('judged', () => {
  const judged = (check: OutletCheck): CheckResult => through(check, choose('judge')).result!;

  test('a weak outlet: underpowered, with what would make it right', () => {
    const weak = supply({ ohmsR: 0.9 });
    const result = judged(through(first, weld(bead(26, 3, corded, weak))));
    expect(result.verdict).toBe('underpowered');
    expect(result.remedies.length).toBeGreaterThan(0);
    expect(tellCheck(through(first, weld(bead(26, 3, corded, weak)), choose('judge'))).doNow).toBe(
      result.remedies[0]!.says,
    );
  });

  test('too light a bead never makes it adequate', () => {
    const light = supply({ largestStepAmps: 5 });
    const check = through(first, weld(bead(5, 3, corded, light)));
    expect(through(check, choose('full-setting'))).toMatchObject({ step: 'first-bead' });
    expect(judged(check)).toMatchObject({
      verdict: 'unproven',
      toProve: ['Set the machine heavier and weld again.'],
    });
  });

  test('the worst of two beads stands', () => {
    const low = bead();
    low.arc.findings = low.arc.findings.map((finding) =>
      finding.rule === 'plate-voltage' ? { ...finding, verdict: 'underpowered' } : finding,
    );
    const check = through(first, weld(low), choose('with-cord'), weld());
    expect(judged(check).verdict).toBe('underpowered');
  });

  test('the first bead told once more is no second one', () => {
    const told = weld();
    const second = through(through(first, told), choose('with-cord'));
    expect(second.step).toBe('second-bead');
    expect(through(second, told).bead).toBeNull();
  });

  test('a sensor at the machine has to see the cord', () => {
    const here = setting({ circuit: { ...circuit, sensorAt: 'machine' } });
    const at = { ...first, setting: here };
    const without = through(at, weld(bead(26, 3, here)));
    expect(judged(without)).toMatchObject({ verdict: 'unproven', sensorAt: 'machine' });
    const withIt = through(without, choose('with-cord'), weld(bead(26, 3, here)));
    expect(judged(withIt).verdict).toBe('adequate');
    const all = { ...without, about: { ...about, cordFrom: 'first-bead' as const } };
    expect(choicesOf(all)).not.toContain('with-cord');
    expect(judged(all).verdict).toBe('adequate');
  });

  test('an arc before its time closes the steps before it, and says what was not taken', () => {
    const early = through(start(), weld());
    expect(early.step).toBe('first-bead');
    expect(early.note).toContain('nothing plugged in and with the machine idle');
    expect(judged(early)).toMatchObject({ noLoadVolts: null, idleVolts: 240 });
    expect(through(full.idle, weld()).note).toBeNull();
  });
});

describe('from a recording', () => {
  test('its arcs are the beads, however far apart', () => {
    const late = bead(4);
    const arcs = [
      bead(26, 0.2),
      bead(),
      { ...late, arc: { ...late.arc, startS: 9_000, endS: 9_003 } },
    ];
    const check = checkRecording(about, corded, arcs);
    expect(check.step).toBe('judged');
    expect(check.result).toMatchObject({ verdict: 'adequate', beads: [{ amps: 26 }] });
  });

  test('full load is foretold once: the figure and the finding speak of the same supply', () => {
    const { result } = checkRecording(about, corded, [
      bead(26, 3, corded, supply({ lagRadians: 0.1 })),
    ]);
    const finding = result!.findings.find(({ rule }) => rule === 'full-load')!;
    expect(finding.measured).toBeCloseTo(result!.atFullLoad!.volts, 6);
  });

  test('without arcs it stands at its beginning', () => {
    expect(checkRecording(about, corded, []).step).toBe('no-load');
  });
});
