import type {
  CouponOutcome,
  CouponReason,
  DestructiveTest,
  Looked,
  Procedure,
  Size,
  VisualTest,
} from '../protocol/jobs.ts';
import { jobs as words } from '../words/en/jobs.ts';

/** What is known of a coupon when it is judged. */
export interface CouponFacts {
  procedure: Procedure;
  /** Arcs that a person said belong to it. */
  arcs: number;
  visual: VisualTest | null;
  destructive: DestructiveTest | null;
  /** Machine, circuit or cord became another since it was begun. */
  changed: boolean;
}

export interface CouponJudged {
  outcome: CouponOutcome;
  /** Empty where it passed. */
  reasons: CouponReason[];
}

type What = CouponReason['what'];
type Why = CouponReason['why'];

/**
 * A coupon passes when both tests were done and each part of them passed. A limit is the vehicle
 * maker's, as the shop typed it in; where there is one, what was measured stands over what was
 * said, and a thing that was not measured is not yet done.
 */
export function judgeCoupon(facts: CouponFacts): CouponJudged {
  const { procedure, arcs, visual, destructive, changed } = facts;
  const reasons = [
    ...(changed ? [reason('machine', 'changed')] : []),
    ...(arcs === 0 ? [reason('arcs', 'missing')] : []),
    ...(visual ? seen(visual, procedure) : [reason('visual', 'missing')]),
    ...(destructive ? torn(destructive, procedure) : [reason('destructive', 'missing')]),
  ];
  const failed = reasons.some(({ why }) => why === 'said' || why === 'measured');
  const outcome = failed ? 'failed' : reasons.length > 0 ? 'unfinished' : 'passed';
  return { outcome, reasons };
}

function seen(visual: VisualTest, procedure: Procedure): CouponReason[] {
  return [
    ...looked('undercut', visual.undercut, procedure.mostUndercut, 'most'),
    ...looked('porosity', visual.porosity, procedure.mostPore, 'most'),
    ...looked('burn-through', visual.burnThrough, undefined, 'most'),
    ...looked('size', visual.size, procedure.leastSize, 'least'),
  ];
}

function torn(test: DestructiveTest, { leastButton }: Procedure): CouponReason[] {
  if (!test.pass) return [reason('destructive', 'said')];
  if (test.buttonLeft === false) return [reason('button', 'said')];
  // A bend leaves no button to measure.
  if (test.method === 'bend') return [];
  return looked('button', { pass: true, ...measuredAs(test.button) }, leastButton, 'least');
}

const measuredAs = (size: Size | undefined) => (size === undefined ? {} : { measured: size });

function looked(
  what: What,
  { pass, measured }: Looked,
  limit: Size | undefined,
  kept: 'least' | 'most',
): CouponReason[] {
  if (!pass) return [reason(what, 'said', measured, limit)];
  if (limit === undefined) return [];
  if (measured === undefined) return [reason(what, 'missing', undefined, limit)];
  const over = millimetres(measured) - millimetres(limit);
  // Crumbs of binary fractions: a tenth of a micrometre is no figure of any caliper.
  const broken = kept === 'least' ? over < -1e-4 : over > 1e-4;
  return broken ? [reason(what, 'measured', measured, limit)] : [];
}

export const millimetres = ({ mm, inches }: Size): number => mm ?? (inches ?? 0) * 25.4;

export const sizeText = ({ mm, inches }: Size): string =>
  mm !== undefined ? `${mm} mm` : `${inches} in`;

function reason(what: What, why: Why, measured?: Size, limit?: Size): CouponReason {
  const text = (size: Size | undefined) => (size === undefined ? null : sizeText(size));
  const says = words.reason(what, why, text(measured), text(limit));
  return { what, why, measured: measured ?? null, limit: limit ?? null, says };
}
