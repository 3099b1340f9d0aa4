import type { page as english } from '../en/page.ts';

export const page: typeof english = {
  toContent: 'Zum Inhalt',
  views: 'Ansichten',
  tabs: {
    floor: 'Halle',
    wall: 'Wand',
    check: 'Prüfen',
    jobs: 'Aufträge',
    plan: 'Planen',
    shop: 'Betrieb',
    settings: 'Einstellungen',
  },
  more: 'Mehr',
  titles: {
    floor: 'Die Halle',
    wall: 'Die Halle, groß',
    flags: 'Gemeldete Lichtbögen',
    circuit: 'Ein Stromkreis',
    arc: 'Ein Lichtbogen',
    checks: 'Eine Steckdose prüfen',
    check: 'Eine Steckdosenprüfung',
    right: 'Was es in Ordnung bringt',
    plan: 'Maschinen und Stromkreise planen',
    jobs: 'Auftragsblätter',
    job: 'Ein Auftragsblatt',
    'new-set-up': 'Eine neue Einstellung',
    'set-up': 'Eine Einstellung',
    welds: 'Nähte eines Auftrags',
    shop: 'Leistungsschilder und Stromkreise',
    settings: 'Einstellungen',
    'edit-plate': 'Ein Leistungsschild',
    'edit-circuit': 'Beschreibung eines Stromkreises',
    'edit-feeder': 'Eine Speiseleitung',
    people: 'Leute',
    audit: 'Änderungen',
  },
  cautions:
    'Ausreichend heißt: der Strom war da, nie: die Naht hält. Probenähte prüfen. Leitungen sind ' +
    'Sache einer Elektrofachkraft und der örtlichen Vorschriften. Heißer Stecker, oder ein ' +
    'Außenleiter hoch und der andere tief: aufhören.',
  link: {
    connecting: 'Verbinde …',
    live: 'Live',
    stale: (since) =>
      since === null ? 'Veraltet: nichts gehört' : `Veraltet: seit ${since} nichts gehört`,
    offline: (since) =>
      since === null ? 'Getrennt: neuer Versuch' : `Getrennt seit ${since}: neuer Versuch`,
    locked: 'Zugangscode nötig',
  },
  leftOut: (rows) => `${rows} Messwerte ausgelassen: langsame Seite`,
  missed: (seconds, arcs, weak) =>
    `Diese Seite hat ${seconds} s lang nichts gehört. ${
      arcs === 0
        ? 'Kein Lichtbogen wurde inzwischen beurteilt.'
        : `Inzwischen beurteilt: ${arcs} ${arcs === 1 ? 'Lichtbogen' : 'Lichtbögen'}, ${
            weak === 0 ? 'keiner' : weak
          } unterversorgt.`
    } Was der Server aus dieser Zeit hat, wird eingesetzt; der Rest bleibt eine Lücke.`,
  missedSeen: 'Gesehen',
};
