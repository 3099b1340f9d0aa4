import type { CheckResult } from '../../shared/protocol/outlet-check.ts';
import type { DropSplit, SplitShares } from '../../shared/protocol/split.ts';
import type { OutletCheck } from '../../shared/rules/outlet-check-state.ts';
import { en } from '../../shared/words/en.ts';
import type { Ends } from './both-ends.ts';

const volts = (value: number): string => `${value.toFixed(1)} V`;

/** Two ends of a cord, weld by weld, as text. */
export function endsText({ alignedBy, lagS, arcs, outlet }: Ends): string {
  const how = alignedBy === 'time' ? 'their own times' : 'the shape of their current';
  return [
    '',
    en.split.heading,
    `  The recordings were laid side by side by ${how}: ${lagS.toFixed(3)} s apart.`,
    ...arcs.flatMap((each) => splitLines(each)),
    `  By the outlet alone it would be: ${outlet.verdict}. The machine's end counts.`,
    '',
  ].join('\n');
}

function splitLines({ outlet, machine, split }: Ends['arcs'][number]): string[] {
  const title = `  arc ${machine} (arc ${outlet} at the outlet)`;
  if (split.doubt) return [`${title}: ${en.split.unproven} ${doubtText(split.doubt)}`];
  const { atArc, atFullLoad } = split;
  const [arc, full] = [en.split.atArc, en.split.atFullLoad];
  return [
    title,
    ...(atArc ? [`    ${arc(ampsOf(atArc))}: ${sharesText(atArc)}`] : []),
    ...(atFullLoad ? [`    ${full(ampsOf(atFullLoad))}: ${sharesText(atFullLoad)}`] : []),
  ];
}

const ampsOf = ({ amps }: SplitShares): string => `${amps.toFixed(1)} A`;

function sharesText({ building, cord, leftVolts }: SplitShares): string {
  const share = ({ volts: value, volts95: [low, high], fraction }: SplitShares['cord']) =>
    `${volts(value)} (${low.toFixed(1)} to ${high.toFixed(1)}; ${(100 * fraction).toFixed(1)} %)`;
  return en.split.picture(share(building), share(cord), volts(leftVolts));
}

function doubtText({ kind, outlet, machine }: NonNullable<DropSplit['doubt']>): string {
  const says = en.split.doubts[kind];
  if (typeof says === 'string') return says;
  const unit = kind === 'currents' ? 'A' : 'V';
  return says(`${(outlet ?? 0).toFixed(1)} ${unit}`, `${(machine ?? 0).toFixed(1)} ${unit}`);
}

/** The recording as an outlet check: its steps, what was seen, and the judgement. */
export function checkText(check: OutletCheck): string {
  const { result, note } = check;
  const text = en.check;
  const head = ['', text.heading];
  if (!result)
    return [...head, `  ${text.notEnough}. No bead of some length was seen.`, ''].join('\n');
  return [
    ...head,
    ...stepLines(result),
    ...(note ? [`  ${note}`] : []),
    `  ${text.steps.judged}: ${en.parts.verdicts[result.verdict]}`,
    ...result.remedies.map(({ says }) => `    ${says}`),
    ...(result.toProve ?? []).map((says) => `    ${says}`),
    '',
  ].join('\n');
}

function stepLines({ noLoadVolts, idleVolts, beads, atFullLoad, sensorAt }: CheckResult): string[] {
  const { result: text, steps } = en.check;
  const taken = (value: number | null) => (value === null ? text.notTaken : volts(value));
  const full = atFullLoad
    ? text.between(
        volts(atFullLoad.volts),
        ...(atFullLoad.volts95.map((value) => value.toFixed(1)) as [string, string]),
      )
    : text.notProven;
  return [
    `  ${steps['no-load']}: ${noLoadVolts === null ? text.notInRecording : volts(noLoadVolts)}`,
    `  ${steps.idle}: ${taken(idleVolts)}`,
    ...beads.map(({ startS, endS, amps, leastVolts, shareOfFull }, index) => {
      const share = shareOfFull === null ? '' : `, ${text.ofFull((100 * shareOfFull).toFixed(0))}`;
      const drawn = `${(endS - startS).toFixed(1)} s, ${amps.toFixed(1)} A${share}`;
      const low = text.lowest(volts(leastVolts), en.check.at[sensorAt]);
      return `  ${text.bead(index + 1)}: ${drawn}, ${low}`;
    }),
    `  ${text.full}: ${full}`,
  ];
}
