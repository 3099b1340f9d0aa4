import { figuresWith, type Gauge, type Length } from '../figures.ts';

const { amps, gauge, given, length, percent, volts } = figuresWith('.');

type Cord = { cord: Gauge & Length };
/** With the cord taken off first. */
type Bare = { bare: boolean };

const bared = ({ bare }: Bare, says: string) =>
  bare ? `Without a cord, and: ${says.charAt(0).toLowerCase()}${says.slice(1)}` : says;

/** What would make it right. */
export const proposals = {
  plugInDirectly: () => 'Plug in without a cord, or move the vehicle to the outlet.',
  cordSameLength: ({ cord }: Cord) => `One cord of ${gauge(cord)} for the same ${length(cord)}.`,
  cordUpTo: ({ cord }: Cord) => `One cord of ${gauge(cord)}, up to ${length(cord)} long.`,

  setNoMore: ({ weldAmps, inputAmps, ...of }: Bare & Record<'weldAmps' | 'inputAmps', number>) =>
    bared(
      of,
      `Set no more than ${amps(weldAmps)} at the gun, about ${amps(inputAmps)} from the outlet. ` +
        'Only if the procedure allows so little.',
    ),
  drawNoMore: ({ inputAmps, ...of }: Bare & { inputAmps: number }) =>
    bared(of, `Set it to draw no more than ${amps(inputAmps)} from the outlet.`),
  weldNoMore: ({ share, ...of }: Bare & { share: number }) =>
    bared(of, `Weld no more than ${percent(share, 0)} of any ten minutes, and let it rest.`),
  weldAt: ({ name, measured }: { name: string; measured: boolean }) =>
    measured
      ? `Weld at ${name}, as it was measured.`
      : `Weld at ${name}, by its description: check the outlet first.`,

  ownCircuit: ({ fall }: { fall: number }) =>
    `A circuit of its own: another load on this one takes ${volts(fall)}. ` +
    'Until then, unplug what else runs on it.',
  copperBranch: ({ wire, run, present }: { wire: Gauge; run: Length; present: Gauge }) =>
    `Copper of ${gauge(wire)} from the panel, ${length(run)}, in place of ${gauge(present)}.`,
  otherInput: ({ plate }: { plate: number }) =>
    `The plate takes ${given(plate)} V too: the same run as a ${given(plate)} V circuit, ` +
    'with the breaker and the receptacle for it.',
  lowerTap: ({ part }: { part: number }) =>
    `Can the tap of the transformer be set ${percent(part)} lower? ` +
    'Whatever else it feeds must bear that too.',
  boosting: ({ part }: { part: number }) =>
    `A boosting transformer of ${percent(part, 0)} for this machine.`,
  bucking: ({ part }: { part: number }) =>
    `A bucking transformer of ${percent(part, 0)} for this machine.`,

  expected: (of: { value: number; needs: number; open: number | null }) =>
    `Expected at the machine: ${of.open === null ? '' : `${volts(of.open)} with no load, `}` +
    `${volts(of.value, of.needs)}.`,
  electriciansWork: () => 'For a licensed electrician and the local code.',
};
