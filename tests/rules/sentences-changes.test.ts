import { expect, test } from 'vitest';
import { say } from '../../shared/rules/say.ts';
import { changes as german } from '../../shared/words/de/changes.ts';
import { type ChangedPlaces, changes } from '../../shared/words/en/changes.ts';
import { expectBothLanguages, toldIn, unsaid } from './sayings.ts';

const wired: ChangedPlaces = {
  places: [
    { path: 'breakerAmps', was: '20', is: '24.5' },
    { path: 'branch.metal', was: null, is: '"copper"' },
  ],
  more: 2,
};
const by = { by: 'Ida' };
const onCoupon = { ...by, coupon: 3 };
const pinless = { ...{ name: 'Ida', pin: false }, places: [], more: 0 };

test('every sentence of the list of changes is said in German, with the same figures', () => {
  const told = toldIn([
    ...(['circuit', 'plate', 'feeder'] as const).map((what) => say('added', { what, name: 'B' })),
    say('changed', { what: 'circuit', name: 'B', ...wired }),
    say('retired', { what: 'plate', name: 'B' }),
    say('tookBack', { what: 'plate', name: 'B' }),
    say('hungOtherwise', { sensor: 'bay', ...wired }),
    say('settingsChanged', wired),
    say('personAdded', { name: 'Ida', role: 'weld' }),
    say('personChanged', { ...pinless, pin: true }),
    say('personChanged', { ...pinless, ...wired }),
    say('signedIn', { name: 'Ida' }),
    say('signedOut', { name: 'Ida' }),
    say('wrongPins', { name: 'Ida', wrong: 5, waitS: 30 }),
    say('arcAcknowledged', { ...by, verdict: 'underpowered', arc: 7, sensor: 'bay' }),
    say('checkBegun', { ...by, sensor: 'bay', place: 'Tor' }),
    say('checkJudged', { check: 4, sensor: 'bay', verdict: 'adequate' }),
    say('checkStopped', { check: 4, sensor: 'bay' }),
    say('recordingChecked', { ...by, recording: 'a.csv', place: 'Tor' }),
    say('jobOpened', { ...by, job: '2611-04' }),
    say('jobClosed', by),
    say('setUpBegun', { ...by, sensor: 'bay' }),
    ...[true, false].map((run) => say('clockSet', { ...by, setUp: 2, run })),
    say('setUpEnded', { ...by, setUp: 2 }),
    say('couponBegun', { ...by, setUp: 2 }),
    ...(['couponArcs', 'couponVisual', 'couponTorn', 'couponDecided'] as const).map((name) =>
      say(name, onCoupon),
    ),
  ]);
  expectBothLanguages(told);
  expect(unsaid(changes, told)).toEqual([]);
});

test('a place that changed goes by its name on the page', () => {
  const place = { path: 'supply[1].I1max', was: '20.5', is: null };
  const told = { what: 'plate' as const, name: 'Tern', places: [place], more: 0 };
  expect(changes.changed(told)).toBe('changed plate "Tern": supply 2 I₁max 20.5 → –');
  const inGerman = 'Leistungsschild „Tern“ geändert: Netzanschluss 2 I₁max 20,5 → –';
  expect(german.changed(told)).toBe(inGerman);
});
