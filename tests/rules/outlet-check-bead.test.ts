import { describe, expect, test } from 'vitest';
import type { Finding } from '../../shared/protocol/judgement.ts';
import { choicesOf, isEnough } from '../../shared/rules/outlet-check.ts';
import { tellCheck } from '../../shared/rules/outlet-check-tell.ts';
import { bead, choose, corded, first, full, through, wants, weld } from './check-given.ts';
import { supply } from './given.ts';

describe('a bead: what is enough, and what is missing', () => {
  test('before a bead each want says what it will have to be', () => {
    const told = tellCheck(first).wants;
    expect(new Set(told.map(({ says }) => says)).size).toBe(told.length);
    expect(told.find(({ id }) => id === 'heavy')!.says).toContain('7.5 A drawn or more');
    expect(told.filter(({ doNow }) => doNow !== null)).toHaveLength(1);
  });

  test('what is enough while it burns may end; a lighter one after it proves less', () => {
    const burning = through(first, weld(bead(26), true));
    expect(tellCheck(burning).doNow).toBe('Enough is in: end the bead when you like.');
    const light = through(full['first-bead'], weld(bead(12)));
    expect(light.bead).toBe(full['first-bead'].bead);
    const alike = through(full['first-bead'], weld(bead(25)));
    expect(alike.bead).not.toBe(full['first-bead'].bead);
  });

  test('short, light, lost, not estimated: each says what to do', () => {
    const of = (...given: Parameters<typeof bead>) => through(first, weld(bead(...given)));
    expect(wants(of(26, 1.5))).toEqual(['long']);
    expect(tellCheck(of(26, 1.5)).doNow).toBe('Weld a longer bead.');
    expect(wants(of(5))).toEqual(['heavy']);
    expect(tellCheck(of(5)).doNow).toContain('heavier');
    const lost = bead();
    lost.arc.lostFraction = 0.1;
    expect(wants(through(first, weld(lost)))).toEqual(['whole']);
    const refused = { pairs: [null], behaviour: 'unknown' as const };
    expect(wants(of(26, 3, corded, refused))).toEqual(['estimated']);
  });

  test('while it burns: keep welding', () => {
    const burning = through(first, weld(bead(26, 1), true));
    expect(tellCheck(burning)).toMatchObject({ doNow: 'Keep welding.', enough: false });
    expect(choicesOf(burning)).not.toContain('judge');
    expect(tellCheck(through(burning, weld(bead(26, 2.5), true))).enough).toBe(true);
  });

  test('a tack is passed over, a light bead after a good one takes nothing away', () => {
    expect(through(first, weld(bead(26, 0.2))).bead).toBeNull();
    const kept = through(full['first-bead'], weld(bead(5)));
    expect(isEnough(kept)).toBe(true);
    expect(kept.bead).toEqual(full['first-bead'].bead);
  });

  test('another load is advice: it can be unplugged, or judged with', () => {
    const other: Finding = {
      ...bead().arc.findings[0]!,
      rule: 'other-load',
      verdict: 'marginal',
      says: 'Something else runs on this supply.',
      required: false,
    };
    const check = through(first, weld(bead(26, 3, corded, supply(), other)));
    expect(wants(check)).toEqual(['quiet']);
    expect(isEnough(check)).toBe(true);
  });

  test('at full setting the second bead must be a heavy one', () => {
    const second = through(first, weld(bead(12)), choose('full-setting'));
    expect(wants(through(second, weld(bead(20))))).toEqual(['heavy']);
    expect(isEnough(through(second, weld(bead(25))))).toBe(true);
  });
});
