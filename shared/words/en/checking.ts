import { figuresWith, type Gauge, type Length } from '../figures.ts';

const { amps, fixed, gauge, length, percent, seconds, volts } = figuresWith('.');

type Cords = (Gauge & Length)[];
type Changed<Of> = { was: Of; now: Of };
type Place = 'outlet' | 'machine';

const cordsOf = (cords: Cords) =>
  cords.map((cord) => `${length(cord)} of ${gauge(cord)}`).join(' and ') || 'no cord';
const changed = ({ was, now }: Changed<string | null>, none: string) =>
  `${was ?? none}; now ${now ?? none}`;

const movedBy = (moved: number) =>
  moved < 0.05 ? '' : `, and the voltage moved by ${fixed(moved, 1)} V`;

/** What an outlet check says on its way, and when a result or a coupon holds no longer. */
export const checking = {
  noCurrentYet: () => 'No current was read yet.',
  nothingFlows: ({ flowing }: { flowing: number }) => `Nothing is drawn: ${amps(flowing)}.`,
  currentFlows: ({ flowing }: { flowing: number }) =>
    `${amps(flowing)} are drawn: something is plugged in or switched on.`,
  noVoltageYet: () => 'No voltage was read yet.',
  voltageThere: ({ there }: { there: number }) => `${volts(there)} at the sensor.`,
  steady: ({ forS }: { forS: number }) => `Steady for ${seconds(forS)}.`,
  steadyMore: ({ leftS, moved }: { leftS: number; moved: number | null }) =>
    (moved === null ? '' : `Something switched${movedBy(moved)}. `) +
    `${seconds(leftS)} more of steady voltage.`,
  machineOn: ({ more }: { more: number }) => `The machine draws ${fixed(more, 2)} A: it is on.`,
  machineOff: () => 'No more current than with nothing plugged in: is the machine on?',

  wantLong: ({ leastS }: { leastS: number }) => `A bead of ${fixed(leastS, 0)} s or more.`,
  wantHeavy: ({ part, least }: { part: number; least: number }) =>
    `${amps(least)} drawn or more: ${percent(part, 0)} of the plate's full current.`,
  wantWhole: () => 'None of its samples lost on the way.',
  wantFullLoad: () => 'Current enough to tell what full load would do.',
  beadLong: (of: { longS: number; leastS: number; burning: boolean }) =>
    `The bead ${of.burning ? 'is' : 'was'} ${seconds(of.longS)} long; ` +
    `${fixed(of.leastS, 0)} s are needed.`,
  beadDrew: ({ drawn }: { drawn: number }) => `${amps(drawn)} drawn.`,
  beadDrewPart: ({ drawn, part, least }: Record<'drawn' | 'part' | 'least', number>) =>
    `${amps(drawn)} drawn, ${percent(part, 0)} of the plate's full current; ` +
    `${percent(least, 0)} are needed.`,
  beadWhole: () => 'None of its samples were lost on the way.',
  beadLost: ({ part }: { part: number }) => `${percent(part)} of its samples were lost on the way.`,
  supplyEstimated: () => 'What full load would do is known.',
  fullLoadNotYet: () => 'What full load would do is not proven yet.',
  cordNotTested: () => 'The cord was not part of the test: weld the second bead with it.',

  startedAnewSteady: () =>
    'The server was started anew. Wait for steady voltage once more; what was done before stands.',
  startedAnewBead: () =>
    'The server was started anew. The bead was cut off: weld it once more; what was done before ' +
    'stands.',
  startedAnew: () =>
    'The server was started anew. Go on where you were; what was done before stands.',
  tookTooLong: () => 'The check took over an hour: begin anew.',
  arcCameFirst: ({ empty, idle }: { empty: boolean; idle: boolean }) => {
    const missing = [
      ...(empty ? ['with nothing plugged in'] : []),
      ...(idle ? ['with the machine idle'] : []),
    ];
    return (
      `An arc came before the voltage ${missing.join(' and ')} was taken; ` +
      "the bead's own idle voltage stands in. To take it after all, go back."
    );
  },
  noSuchChoice: () => 'That is no choice at this step.',
  stopped: () => 'Stopped: nothing was judged.',
  stoppedByChange: () => 'Stopped: the machine, the circuit or the cord was changed meanwhile.',
  stoppedByAnother: () => 'Stopped: another check was begun at this outlet.',
  notYet: () => 'Not yet: see what is missing.',

  checkedOn: (of: Changed<string | null>) => `Checked on ${changed(of, 'not said')}.`,
  checkedWith: (of: Changed<string | null>) => `Checked with ${changed(of, 'not said')}.`,
  checkedAt: (of: Changed<string | null>) => `Checked at ${changed(of, 'not said')}.`,
  checkedCords: ({ was, now }: Changed<Cords>) =>
    `Checked with ${cordsOf(was)}; now ${cordsOf(now)}.`,
  checkUndated: () => 'The date of the check cannot be read.',
  checkOfTomorrow: () => 'The check is dated after today: look at the clocks.',
  checkOld: ({ days, most }: { days: number; most: number }) =>
    `${days} days old; over ${most} it is done anew (common practice, no source).`,

  weldedWith: (of: Changed<string | null>) =>
    `Welded with ${changed(of, 'no machine named')}, or its plate was written anew.`,
  weldedOn: (of: Changed<string | null>) =>
    `Welded on ${changed(of, 'no circuit named')}, or its wiring was written anew.`,
  weldedCords: ({ was, now }: Changed<Cords>) =>
    `Welded with ${cordsOf(was)}; now ${cordsOf(now)}.`,
  measuredAt: ({ was, now }: Changed<Place>) => `Measured at the ${was}; now at the ${now}.`,
};
