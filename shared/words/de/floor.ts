import type { floor as english } from '../en/floor.ts';

export const floor: typeof english = {
  heading: 'Die Halle',
  headingLarge: 'Die Halle, groß',
  looking: 'Suche den Server …',
  noSensor: 'Noch hat sich kein Sensor gemeldet.',
  noneIsLikeThat: (all) => `Von ${all} passt jetzt keiner zu dieser Auswahl.`,
  showAll: 'Alle zeigen',
  flagged: (flags) =>
    flags === 1
      ? '1 gemeldeter Lichtbogen, den noch niemand bestätigt hat'
      : `${flags} gemeldete Lichtbögen, die noch niemand bestätigt hat`,
  which: 'Welche Stromkreise',
  shows: { all: 'Alle', flagged: 'Gemeldet', arc: 'Lichtbogen', unheard: 'Nicht gehört' },
  find: 'Stromkreis oder Maschine suchen',
  sound: { on: 'Ton an', off: 'Ton aus', waits: 'Ton wartet: hier antippen' },
  end: { outlet: 'an der Steckdose', machine: 'an der Maschine', unstated: 'Ort nicht angegeben' },
  at: { outlet: 'an der Steckdose', machine: 'an der Maschine', unstated: 'Ort nicht angegeben' },
  notAcknowledged: (flags) => `${flags} nicht bestätigt`,
  notAcknowledgedRest: 'nicht bestätigt',
  arcOnNow: 'Lichtbogen brennt',
  arcAt: (clock) => `Lichtbogen um ${clock}`,
  noArc: 'Noch kein Lichtbogen.',
  volts: 'Volt',
  amperes: 'Ampere',
  noPlate: 'Kein Leistungsschild: nichts, woran zu messen wäre',
  noMachine: 'Keine Maschine genannt',
  arcOn: (part) => `Lichtbogen ${part} von 10 min`,
  plateDuty: (part, amps) => `Schild ${part} bei ${amps}`,
  overDuty: 'darüber',
  stands: {
    unknown: 'Nicht live: zuletzt bekannt',
    off: (clock) => `Abgeschaltet ${clock}`,
    lost: (clock) => `Verloren: still seit ${clock}`,
    late: (seconds) => `Seit ${seconds} s kein Wort`,
    arc: 'Lichtbogen brennt',
    quiet: 'Ruhig',
  },
};
