import type { jobs as english } from '../en/jobs.ts';

const things = {
  arcs: 'die Nähte daran',
  visual: 'die Sichtprüfung',
  destructive: 'die zerstörende Prüfung',
  undercut: 'Einbrandkerben',
  porosity: 'Poren',
  'burn-through': 'Durchbrand',
  size: 'die Größe der Naht',
  button: 'der Butzen',
  machine: 'die Maschine',
};

export const jobs: typeof english = {
  reason: (what, why, measured, limit) => {
    if (what === 'arcs') return 'Noch gehört keine Naht dazu, die der Sensor gesehen hat.';
    if (what === 'machine')
      return 'Maschine, Stromkreis oder Verlängerung wurden seither geändert: neue Probenaht.';
    if (why === 'measured')
      return `Nicht bestanden, ${things[what]}: ${measured} gemessen, die Vorgabe sagt ${limit}.`;
    if (why === 'said' && what === 'button') return 'Nicht bestanden: kein Butzen blieb stehen.';
    if (why === 'said') return `Nicht bestanden: ${things[what]}.`;
    if (limit !== null) return `Noch messen: ${things[what]}. Die Vorgabe nennt ${limit}.`;
    return `Fehlt noch: ${things[what]}.`;
  },
  fetching: 'Auftragsblätter werden geladen …',
  heading: 'Auftragsblätter',
  what:
    'Auf Reststücken desselben Blechs einstellen, die Probenähte zerstörend prüfen, dann am ' +
    'Fahrzeug schweißen. Die Einstellzeit wird für die Rechnung festgehalten.',
  which: 'Welche Auftragsblätter',
  open: 'Offen',
  all: 'Alle',
  none: 'Hier ist noch kein Auftragsblatt.',
  older: 'Frühere Auftragsblätter',
  begin: 'Auftragsblatt beginnen',
  number: 'Auftragsnummer',
  vehicle: 'Fahrzeug, in eigenen Worten',
  line: (setUps, coupons, time) =>
    `${setUps} ${setUps === 1 ? 'Einstellung' : 'Einstellungen'}, ${coupons} ` +
    `${coupons === 1 ? 'Probenaht' : 'Probenähte'}, Einstellzeit ${time}`,
  opened: (by, when) => `eröffnet von ${by}, ${when}`,
  closed: (by, when) => `geschlossen von ${by}, ${when}`,
  back: 'Auftragsblätter',
  job: (number) => `Auftrag ${number}`,
  close: 'Auftragsblatt schließen',
  times: 'Einstellzeit, getrennt von aller anderen Arbeit',
  copy: 'Für die Rechnung kopieren',
  copied: 'Kopiert.',
  csv: 'Als CSV mitnehmen',
  bill: (number, time, setUps, coupons) =>
    `Auftrag ${number}: Einstellen ${time}, Einstellungen: ${setUps}, ` +
    `Probenähte geprüft: ${coupons}`,
  minutes: (minutes) => `${minutes} min`,
  usual: (low, high) =>
    `Zur Orientierung: üblich sind ${low} bis ${high} min (übliche Praxis, ohne Quelle).`,
  noUsual: 'Für dieses Verfahren ist keine übliche Zeit bekannt.',
  long: 'Die Uhr lief einmal über vier Stunden am Stück: vor der Rechnung ansehen.',
  sheets: 'Alle Nähte, je eine Seite',
  setUps: 'Einstellungen der Maschine',
  noSetUps: 'Noch ist nichts eingestellt.',
  newSetUp: 'Eine neue Einstellung',
  sensor: 'Sensor an Steckdose oder Maschine',
  at: (name, machine) => `${name}: ${machine ?? 'keine Maschine benannt'}`,
  work: 'Die Arbeit',
  process: 'Verfahren',
  sheet: (at) => (at === 1 ? 'Erstes Blech: Werkstoff' : 'Zweites Blech: Werkstoff'),
  thick: (at) => (at === 1 ? 'Erstes Blech: Dicke' : 'Zweites Blech: Dicke'),
  joint: 'Naht und Stoß',
  joints: {
    plug: 'Lochnaht',
    slot: 'Langlochnaht',
    lap: 'Überlappstoß',
    butt: 'Stumpfstoß',
    fillet: 'Kehlnaht',
  },
  position: 'Lage',
  positions: {
    flat: 'Wannenlage',
    horizontal: 'quer',
    'vertical-up': 'steigend',
    'vertical-down': 'fallend',
    overhead: 'über Kopf',
  },
  wire: 'Draht, Durchmesser',
  wireKind: 'Draht, Sorte',
  gas: 'Gas',
  leastWeldAmps: 'Schweißstrom mindestens, A',
  leastOutput: 'Leistung mindestens, %',
  leastOutputHint: 'Von der Bemessungsleistung. Leer lassen, wenn der Auftrag keine nennt.',
  pulse: 'Impuls',
  yes: 'ja',
  no: 'nein',
  procedure: 'Vorgabe des Fahrzeugherstellers, wie Sie sie eintippen',
  procedureHint: 'Was sie offen lässt, leer lassen: daran wird nichts gemessen.',
  reference: 'Nummer oder Titel',
  leastButton: 'Kleinster Butzen, Durchmesser',
  leastSize: 'Kleinste Größe der Naht (Schenkel, Breite, Lochfläche)',
  mostUndercut: 'Tiefste erlaubte Einbrandkerbe',
  mostPore: 'Größte erlaubte Pore',
  machineVolts: 'Maschine ab, V',
  unit: 'Einheit',
  beginSetUp: 'Beginnen: die Uhr läuft',
  notSaved: 'Nicht gespeichert.',
  stages: {
    'no-coupon': 'Keine bestandene Probenaht',
    welding: 'Probenaht schweißen',
    testing: 'Probenaht prüfen',
    vehicle: 'Probenaht bestanden: das Fahrzeug',
    stale: 'Die Probenaht gilt nicht mehr',
    ended: 'Beendet',
  },
  doNow: {
    'no-coupon':
      'Die Maschine auf einem Reststück desselben Blechs einstellen, dann die Probenaht.',
    welding: 'Jetzt die Probenaht schweißen. Ihre Lichtbögen erscheinen unten.',
    testing: 'Ansehen, dann zerreißen.',
    vehicle: 'Jetzt das Fahrzeug. Jeder Lichtbogen wird an der bestandenen Probenaht gemessen.',
    stale: 'Vor dem Fahrzeug eine neue Probenaht schweißen und prüfen.',
    ended: 'Diese Einstellung ist beendet.',
  },
  running: 'Die Einstellzeit läuft',
  standing: 'Die Einstellzeit steht',
  pause: 'Uhr anhalten',
  resume: 'Uhr laufen lassen',
  end: 'Einstellung beenden',
  knobs: 'Wie die Maschine eingestellt ist, in eigenen Worten',
  weldCoupon: 'Jetzt die Probenaht schweißen',
  weldAnother: 'Eine weitere Probenaht schweißen',
  arcsHere: 'Lichtbögen dieser Probenaht',
  noArcs: 'Noch kein Lichtbogen.',
  belongs: (when) => `Der Lichtbogen von ${when} gehört zur Probenaht`,
  welded: 'Die Probenaht ist geschweißt',
  choose: 'Diese Auswahl behalten',
  weak: (count) =>
    `${count} ihrer Lichtbögen ${count === 1 ? 'war' : 'waren'} unterversorgt oder an falscher ` +
    'Spannung: Sie belegt wenig.',
  visual: 'Sichtprüfung',
  destructive: 'Zerstörende Prüfung',
  undercut: 'Einbrandkerben',
  porosity: 'Poren',
  burnThrough: 'Durchbrand',
  size: 'Größe der Naht',
  pass: 'Bestanden',
  fail: 'Nicht bestanden',
  measured: (limit, kept) =>
    limit === null
      ? 'Gemessen, falls Sie es taten'
      : `Gemessen; die Vorgabe sagt ${kept === 'least' ? 'mindestens' : 'höchstens'} ${limit}`,
  method: 'Verfahren der Prüfung',
  methods: { peel: 'abschälen', chisel: 'meißeln', bend: 'biegen', tear: 'reißen' },
  buttonLeft: 'Ein Butzen blieb stehen',
  notAsked: 'lässt keinen',
  result: 'Die Prüfung im Ganzen',
  note: 'Eine Bemerkung',
  keepVisual: 'Sichtprüfung festhalten',
  keepDestructive: 'Zerstörende Prüfung festhalten',
  kept: (by, when) => `Eingetragen von ${by}, ${when}. Es kann neu eingetragen werden.`,
  outcomes: {
    passed: 'So eingetragen besteht die Probenaht.',
    failed: 'So eingetragen besteht die Probenaht nicht.',
    unfinished: 'Noch nicht alles da.',
  },
  decided: { passed: 'Bestanden', failed: 'Nicht bestanden', 'given-up': 'Aufgegeben' },
  decidedBy: 'Entschieden von',
  decide: 'Dieses Ergebnis endgültig festhalten',
  band: (low, high) => `Die Probenaht nahm ${low} bis ${high} W aus dem Netz.`,
  noBand: 'Ihre Lichtbögen waren zu kurz, um die Wärme zu vergleichen.',
  before: 'Probenähte dieser Einstellung',
  coupon: (at) => `Probenaht ${at}`,
  staleWhy: (why) => `Gilt nicht mehr. ${why}`,
  since: 'Lichtbögen am Fahrzeug seither',
  count: (arcs, weak, colder, hotter) =>
    `${arcs} ${arcs === 1 ? 'Lichtbogen' : 'Lichtbögen'}: ${weak} unterversorgt oder an ` +
    `falscher Spannung, ` +
    `${colder} kälter, ${hotter} heißer als die Probenaht.`,
  untested: 'keine bestandene Probenaht dahinter',
  heat: { colder: 'kälter', inside: 'im Band', hotter: 'heißer' },
  took: (watts) => `${watts} W`,
  arcOn: 'Lichtbogen brennt:',
  arcLast: 'Letzter Lichtbogen:',
  print: 'Drucken',
  weldOf: (at, all) => `Naht ${at} von ${all}`,
  tests: 'Prüfung der Probenaht, wie der Betrieb sie angibt',
  figures: 'Das Netz, während der Lichtbogen brannte',
  noCoupon: 'Hinter dieser Naht steht keine bestandene Probenaht.',
  onCoupon: 'Diese Naht ist auf einem Probestück, nicht am Fahrzeug.',
  volts: 'Ohne Last, Mittel, niedrigste 200 ms',
  amps: 'Strom, Mittel und höchster',
  watts: 'Leistung',
  onlySo: (count) => `Gezeigt sind die neuesten ${count} Nähte.`,
  cautions: [
    'Das Urteil spricht vom Strom, nie von der Naht.',
    'Die Prüfung der Probenaht ist die eigene Angabe des Betriebs.',
    'Die Vorgabe des Fahrzeugherstellers und die Anleitung der Maschine gelten.',
  ],
  here: (number) => `Auftrag ${number}`,
};
