import type { ChangedPlaces, changes as english } from '../en/changes.ts';
import { fieldName } from './field-names.ts';
import { parts } from './parts.ts';

const whats = {
  circuit: 'Stromkreis',
  plate: 'Leistungsschild',
  feeder: 'Speiseleitung',
};
const roles = { watch: 'zusehen', weld: 'schweißen', lead: 'leiten' };
const texts: Record<string, string> = {
  ...{ true: 'ja', false: 'nein', '"copper"': 'Kupfer', '"aluminium"': 'Aluminium' },
  ...{ '"watch"': roles.watch, '"weld"': roles.weld, '"lead"': roles.lead },
};

/** Figures with a comma; what a person typed stays as it was. */
function textOf(json: string | null): string {
  if (json === null) return '–';
  if (json.startsWith('"')) return texts[json] ?? `„${JSON.parse(json)}“`;
  return texts[json] ?? json.replace('.', ',');
}

const changesOf = ({ places, more }: ChangedPlaces) =>
  places
    .map(({ path, was, is }) => `${fieldName(path)} ${textOf(was)} → ${textOf(is)}`.trim())
    .join('; ') + (more > 0 ? ` und ${more} weitere` : '');

export const changes: typeof english = {
  added: ({ what, name }) => `${whats[what]} „${name}“ angelegt`,
  changed: ({ what, name, ...of }) => `${whats[what]} „${name}“ geändert: ${changesOf(of)}`,
  retired: ({ what, name }) => `${whats[what]} „${name}“ ausgemustert`,
  tookBack: ({ what, name }) => `${whats[what]} „${name}“ wieder aufgenommen`,
  hungOtherwise: ({ sensor, ...of }) => `Geändert, was an ${sensor} hängt: ${changesOf(of)}`,
  settingsChanged: (of) => `Einstellungen des Betriebs geändert: ${changesOf(of)}`,

  personAdded: ({ name, role }) => `${name} angelegt: darf ${roles[role]}`,
  personChanged: ({ name, pin, ...of }) =>
    `${name} geändert: ${[changesOf(of), pin ? 'eine neue PIN' : '']
      .filter((each) => each !== '')
      .join(', ')}`,
  signedIn: ({ name }) => `${name} hat sich angemeldet`,
  signedOut: ({ name }) => `${name} hat sich abgemeldet`,
  wrongPins: (of) => `${of.wrong} falsche PINs für ${of.name}: ${of.waitS} s gesperrt`,

  arcAcknowledged: (of) =>
    `${of.by} hat den Lichtbogen ${of.arc} an ${of.sensor} bestätigt: ` +
    `${parts.verdicts[of.verdict]}`,
  checkBegun: (of) => `${of.by} hat an ${of.sensor} eine Prüfung begonnen, ${of.place}`,
  checkJudged: (of) =>
    `Die Prüfung ${of.check} an ${of.sensor} wurde beurteilt: ${parts.verdicts[of.verdict]}`,
  checkStopped: ({ check, sensor }) => `Die Prüfung ${check} an ${sensor} wurde abgebrochen`,
  recordingChecked: (of) =>
    `${of.by} hat aus der Aufzeichnung ${of.recording} eine Prüfung gemacht, ${of.place}`,

  jobOpened: ({ by, job }) => `${by} hat den Auftrag ${job} eröffnet`,
  jobClosed: ({ by }) => `${by} hat den Auftrag geschlossen`,
  setUpBegun: ({ by, sensor }) => `${by} hat an ${sensor} eine Einstellung begonnen`,
  clockSet: ({ by, setUp, run }) =>
    `${by} hat die Uhr der Einstellung ${setUp} ${run ? 'laufen lassen' : 'angehalten'}`,
  setUpEnded: ({ by, setUp }) => `${by} hat die Einstellung ${setUp} beendet`,
  couponBegun: ({ by, setUp }) => `${by} hat eine Probenaht der Einstellung ${setUp} begonnen`,
  couponArcs: ({ by, coupon }) =>
    `${by} hat gesagt, welche Lichtbögen zur Probenaht ${coupon} gehören`,
  couponVisual: ({ by, coupon }) =>
    `${by} hat die Sichtprüfung der Probenaht ${coupon} eingetragen`,
  couponTorn: ({ by, coupon }) =>
    `${by} hat die zerstörende Prüfung der Probenaht ${coupon} eingetragen`,
  couponDecided: ({ by, coupon }) => `${by} hat die Probenaht ${coupon} entschieden`,
};
