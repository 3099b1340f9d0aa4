import { describe, expect, test } from 'vitest';
import type { Verdict } from '../../shared/protocol/judgement.ts';
import { verdicts } from '../../shared/protocol/verdicts.ts';
import { advise, compare, notAsked, reading, state } from '../../shared/rules/finding.ts';
import { headline } from '../../shared/rules/headline.ts';
import { limits } from '../../shared/rules/limits.ts';
import { say } from '../../shared/rules/say.ts';
import { fold, isAtLeast, worse } from '../../shared/rules/verdict.ts';

const finding = (verdict: Verdict, required: boolean, says: string = verdict) =>
  state('plate-voltage', verdict, { says, required });
const limit = { value: 108, unit: 'V', source: 'test' };
const more = (value: number, half: number) =>
  compare('plate-voltage', reading(value, half), limit, 'more', (verdict) => ({ says: verdict }));

describe('a finding', () => {
  test('is marginal exactly where the limit lies within the interval', () => {
    expect(more(110, 0.005).verdict).toBe('adequate');
    expect(more(108.3, 0.005).verdict).toBe('marginal');
    expect(more(107.7, 0.005).verdict).toBe('marginal');
    expect(more(107, 0.005).verdict).toBe('underpowered');
  });

  test('has a margin that is negative when bad, whichever way is better', () => {
    expect(more(104, 0).margin).toBe(-4);
    const less = compare('duty', reading(0.4, 0), { ...limit, value: 0.3 }, 'less', () => ({
      says: '',
    }));
    expect(less.margin).toBeCloseTo(-0.1, 12);
    expect(less.verdict).toBe('underpowered');
  });

  test('that only advises is never underpowered', () => {
    expect(advise('drop', reading(90, 0), limit, 'more', () => ({ says: '' })).verdict).toBe(
      'marginal',
    );
  });
});

describe('the verdict', () => {
  test('is the worst required finding', () => {
    expect(fold([finding('adequate', true), finding('marginal', true)], true)).toBe('marginal');
    expect(fold([finding('unproven', true), finding('marginal', true)], true)).toBe('unproven');
    expect(fold([finding('unproven', true), finding('underpowered', true)], true)).toBe(
      'underpowered',
    );
  });

  test('takes underpowered from any rule, and nothing else from advice', () => {
    expect(fold([finding('adequate', true), finding('underpowered', false)], true)).toBe(
      'underpowered',
    );
    expect(fold([finding('adequate', true), finding('marginal', false)], true)).toBe('adequate');
  });

  test('that a machine must not be plugged in stands over all, whichever rule says so', () => {
    const wrong = finding('unsuited', false);
    expect(fold([finding('underpowered', true), wrong], true)).toBe('unsuited');
    expect(fold([finding('adequate', true), wrong], true)).toBe('unsuited');
    expect(fold([wrong], false)).toBe('unproven');
    expect(worse(finding('underpowered', true), wrong)).toBe(wrong);
  });

  test('is not held down by a rule that cannot be asked', () => {
    const none = notAsked('duty', limits.duty, say('dutyTooShort'));
    expect(none.verdict).toBe('unproven');
    expect(fold([finding('adequate', true), none], true)).toBe('adequate');
  });

  test('without a plate, or with nothing asked, is unproven', () => {
    expect(fold([finding('adequate', true)], false)).toBe('unproven');
    expect(fold([finding('adequate', false)], true)).toBe('unproven');
    expect(fold([], true)).toBe('unproven');
  });

  test('orders for --fail-on: this or worse', () => {
    expect(isAtLeast('underpowered', 'marginal')).toBe(true);
    expect(isAtLeast('unproven', 'marginal')).toBe(true);
    expect(isAtLeast('unsuited', 'underpowered')).toBe(true);
    expect(isAtLeast('underpowered', 'unsuited')).toBe(false);
    expect(verdicts).toEqual(['adequate', 'marginal', 'unproven', 'underpowered', 'unsuited']);
    expect(isAtLeast('marginal', 'unproven')).toBe(false);
    expect(isAtLeast('adequate', 'adequate')).toBe(true);
  });

  test('of two findings the smaller margin is the worse', () => {
    const [near, far] = [more(107, 0), more(100, 0)];
    expect(worse(near, far)).toBe(far);
    expect(worse(more(110, 0), near)).toBe(near);
  });
});

test('the headline is the deciding finding in words', () => {
  const says = 'The voltage fell to 104 V at 18 A; the plate needs 108 V.';
  const findings = [
    finding('underpowered', false, 'advice'),
    finding('underpowered', true, says),
    finding('adequate', true),
  ];
  expect(headline('underpowered', findings)).toBe(
    'Underpowered: the voltage fell to 104 V at 18 A; the plate needs 108 V.',
  );
  expect(headline('unproven', [])).toBe('Unproven.');
  const class120 = 'The supply is of the 240 V class; the plate asks for 120 V.';
  expect(headline('unsuited', [finding('unsuited', true, class120)])).toBe(
    `Wrong voltage: do not plug in. ${class120}`,
  );
  expect(headline('unsuited', [])).toBe('Wrong voltage: do not plug in.');
});
