import type { Finding, Saying, Verdict } from '../protocol/judgement.ts';
import type { RuleId } from './facts.ts';
import { commonPractice, type Limit } from './limits.ts';
import type { Said } from './say.ts';

/** A value with its 95 % interval. */
export interface Reading {
  value: number;
  lo: number;
  hi: number;
}

/** What a finding says beside its verdict. */
export interface Words {
  says: string;
  saying?: Saying;
  electrician?: Said | string | null;
  atS?: [number, number] | null;
  required?: boolean;
}

/** `half` is a part of the value. */
export const reading = (value: number, half: number): Reading => {
  const width = Math.abs(value) * half;
  return { value, lo: value - width, hi: value + width };
};

/** What figures alone can say: another class of supply is never a matter of a margin. */
export type Compared = Exclude<Verdict, 'unsuited'>;

/** The limit within the interval is `marginal`: the measurement cannot tell which side it is on. */
export function verdictOf(measured: Reading, limit: number, better: 'more' | 'less'): Compared {
  const [bad, good] = better === 'more' ? [measured.lo, measured.hi] : [-measured.hi, -measured.lo];
  const line = better === 'more' ? limit : -limit;
  if (bad >= line) return 'adequate';
  return good < line ? 'underpowered' : 'marginal';
}

/** A finding that compares: verdict and margin follow from reading and limit. */
export function compare(
  rule: RuleId,
  measured: Reading,
  limit: Pick<Limit, 'value' | 'unit' | 'source'>,
  better: 'more' | 'less',
  words: (verdict: Compared) => Words,
): Finding {
  const verdict = verdictOf(measured, limit.value, better);
  const { atS = null, required = false, ...sentences } = words(verdict);
  return {
    rule,
    verdict,
    measured: measured.value,
    limit: limit.value,
    unit: limit.unit,
    margin: better === 'more' ? measured.value - limit.value : limit.value - measured.value,
    interval: [measured.lo, measured.hi],
    source: limit.source,
    ...spoken(sentences),
    atS,
    required,
  };
}

/** The two sentences as a finding carries them, each with its name where it has one. */
function spoken({ says, saying, electrician = null }: Words) {
  const other = typeof electrician === 'string' ? { says: electrician } : electrician;
  return {
    says,
    ...(saying ? { saying } : {}),
    electrician: other?.says ?? null,
    ...(other && 'saying' in other ? { electricianSaying: other.saying } : {}),
  };
}

/** The same for a rule that only advises: what fails it is `marginal`, never `underpowered`. */
export function advise(...comparison: Parameters<typeof compare>): Finding {
  const finding = compare(...comparison);
  return finding.verdict === 'underpowered' ? { ...finding, verdict: 'marginal' } : finding;
}

/** A finding that states a fact and compares no figures. */
export function state(
  rule: RuleId,
  verdict: Verdict,
  words: Words,
  source: string = commonPractice,
  unit = '',
): Finding {
  const { atS = null, required = false, ...sentences } = words;
  const figures = { measured: null, limit: null, unit, margin: null, interval: null };
  return { rule, verdict, ...figures, source, ...spoken(sentences), atS, required };
}

/** The rule has no question here: it says why and does not hold the verdict down. */
export const notAsked = (rule: RuleId, limit: Limit, why: Said): Finding => ({
  ...state(rule, 'unproven', why, limit.source, limit.unit),
  limit: null,
});

/** The rule has a question and the evidence no answer: where required, never as good as a pass. */
export const thinEvidence = (rule: RuleId, limit: Limit, words: Words): Finding =>
  state(rule, 'unproven', words, limit.source, limit.unit);
