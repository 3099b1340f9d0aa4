import { fieldName } from './field-names.ts';
import type { parts } from './parts.ts';

/** A place in a value, such as `supply[0].I1max`, and its JSON before and after; null: nothing. */
export interface ChangedPlace {
  path: string;
  was: string | null;
  is: string | null;
}
/** The first few places that differ, and how many more do. */
export interface ChangedPlaces {
  places: ChangedPlace[];
  more: number;
}

type Named = { what: 'circuit' | 'plate' | 'feeder'; name: string };
type Verdict = keyof typeof parts.verdicts;
type By = { by: string };
type Coupon = By & { coupon: number };

const changesOf = ({ places, more }: ChangedPlaces) =>
  places
    .map(({ path, was, is }) => `${fieldName(path)} ${was ?? '–'} → ${is ?? '–'}`.trim())
    .join(', ') + (more > 0 ? `, and ${more} more` : '');

/** What the list of changes says, in the past and without its subject. */
export const changes = {
  added: ({ what, name }: Named) => `added ${what} "${name}"`,
  changed: ({ what, name, ...of }: Named & ChangedPlaces) =>
    `changed ${what} "${name}": ${changesOf(of)}`,
  retired: ({ what, name }: Named) => `retired ${what} "${name}"`,
  tookBack: ({ what, name }: Named) => `took back ${what} "${name}"`,
  hungOtherwise: ({ sensor, ...of }: ChangedPlaces & { sensor: string }) =>
    `changed what hangs on ${sensor}: ${changesOf(of)}`,
  settingsChanged: (of: ChangedPlaces) => `changed the shop's settings: ${changesOf(of)}`,

  personAdded: ({ name, role }: { name: string; role: 'watch' | 'weld' | 'lead' }) =>
    `added ${name}, who may ${role}`,
  personChanged: ({ name, pin, ...of }: ChangedPlaces & { name: string; pin: boolean }) =>
    `changed ${name}: ${[changesOf(of), pin ? 'a new PIN' : '']
      .filter((each) => each !== '')
      .join(', ')}`,
  signedIn: ({ name }: { name: string }) => `${name} signed in`,
  signedOut: ({ name }: { name: string }) => `${name} signed out`,
  wrongPins: (of: { name: string; wrong: number; waitS: number }) =>
    `${of.wrong} wrong PINs for ${of.name}: locked for ${of.waitS} s`,

  arcAcknowledged: (of: By & { verdict: Verdict; arc: number; sensor: string }) =>
    `${of.by} acknowledged the ${of.verdict} arc ${of.arc} at ${of.sensor}`,
  checkBegun: (of: By & { sensor: string; place: string }) =>
    `${of.by} began an outlet check at ${of.sensor}, ${of.place}`,
  checkJudged: (of: { check: number; sensor: string | null; verdict: Verdict }) =>
    `outlet check ${of.check} at ${of.sensor} was judged ${of.verdict}`,
  checkStopped: ({ check, sensor }: { check: number; sensor: string | null }) =>
    `outlet check ${check} at ${sensor} was stopped`,
  recordingChecked: (of: By & { recording: string; place: string }) =>
    `${of.by} kept an outlet check of the recording ${of.recording}, ${of.place}`,

  jobOpened: ({ by, job }: By & { job: string }) => `${by} opened job ${job}`,
  jobClosed: ({ by }: By) => `${by} closed the job`,
  setUpBegun: ({ by, sensor }: By & { sensor: string }) => `${by} began a set-up at ${sensor}`,
  clockSet: ({ by, setUp, run }: By & { setUp: number; run: boolean }) =>
    `${by} let the clock of set-up ${setUp} ${run ? 'run' : 'stand'}`,
  setUpEnded: ({ by, setUp }: By & { setUp: number }) => `${by} ended set-up ${setUp}`,
  couponBegun: ({ by, setUp }: By & { setUp: number }) => `${by} began a coupon of set-up ${setUp}`,
  couponArcs: ({ by, coupon }: Coupon) => `${by} said which arcs are of coupon ${coupon}`,
  couponVisual: ({ by, coupon }: Coupon) => `${by} entered the visual test of coupon ${coupon}`,
  couponTorn: ({ by, coupon }: Coupon) => `${by} entered the destructive test of coupon ${coupon}`,
  couponDecided: ({ by, coupon }: Coupon) => `${by} decided coupon ${coupon}`,
};
