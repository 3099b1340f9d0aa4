import { figuresWith, type Gauge, type Length } from '../figures.ts';

const { amps, gauge, length, percent, seconds, volts } = figuresWith('.');

type Cords = (Gauge & Length)[];
type Changed<Of> = { was: Of; now: Of };
type Place = 'outlet' | 'machine';

const cordsOf = (cords: Cords) =>
  cords.map((cord) => `${length(cord)} of ${gauge(cord)}`).join(' and ') || 'no cord';
const changed = ({ was, now }: Changed<string | null>, none: string) =>
  `${was ?? none}; now ${now ?? none}`;

/** What an outlet check says on its way, and when a result or a coupon holds no longer. */
export const checking = {
  noCurrentYet: () => 'No current was read yet.',
  currentFlows: ({ flowing }: { flowing: number }) => `${amps(flowing)} flow.`,
  noVoltageYet: () => 'No voltage was read yet.',
  voltageThere: ({ there }: { there: number }) => `${volts(there)} at the outlet.`,
  steady: ({ forS }: { forS: number }) => `Steady for ${seconds(forS)}.`,
  steadyMore: ({ leftS, moved }: { leftS: number; moved: number | null }) =>
    (moved === null ? '' : `The voltage moved by ${volts(moved)}: something switched. `) +
    `${seconds(leftS)} more of steady voltage.`,
  noBead: () => 'No bead yet.',
  beadLong: (of: { longS: number; leastS: number; burning: boolean }) =>
    `The bead ${of.burning ? 'is' : 'was'} ${seconds(of.longS)} long; ` +
    `${seconds(of.leastS)} are needed.`,
  beadDrew: ({ drawn }: { drawn: number }) => `${amps(drawn)} drawn.`,
  beadDrewPart: ({ drawn, part, least }: Record<'drawn' | 'part' | 'least', number>) =>
    `${amps(drawn)} drawn, ${percent(part, 0)} of the plate's full current; ` +
    `${percent(least, 0)} are needed.`,
  beadLost: ({ part }: { part: number }) =>
    `${percent(part, 0)} of its samples were lost on the way.`,
  supplyEstimated: () => 'The supply is estimated.',
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
      "the bead's own idle voltage stands in."
    );
  },
  noSuchChoice: () => 'That is no choice at this step.',
  stopped: () => 'Stopped: nothing was judged.',
  stoppedByChange: () => 'Stopped: the machine, the circuit or the cord was changed meanwhile.',
  stoppedByAnother: () => 'Stopped: another check was begun at this outlet.',
  notYet: () => 'Not yet:',

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
