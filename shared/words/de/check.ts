import type { check as english } from '../en/check.ts';

export const check: typeof english = {
  heading: 'Eine Steckdose prüfen',
  intro:
    'Vor einer schweren Naht: Liefert diese Steckdose mit dieser Verlängerung, was das ' +
    'Leistungsschild der Maschine verlangt? Sie schweißen eine Probenaht, den Rest macht der ' +
    'Sensor. Es dauert einige Minuten.',
  noSensor: 'Noch hat sich kein Sensor gemeldet.',
  looking: 'Einen Moment …',
  sensor: 'Sensor',
  at: { outlet: 'an der Steckdose', machine: 'an der Maschine', unstated: 'am Sensor' },
  circuit: 'Stromkreis',
  machine: 'Maschine',
  cordLater: 'Erste Probenaht ohne Verlängerung, zweite mit ihr',
  place: 'Wo das Fahrzeug steht',
  begin: 'Prüfung beginnen',
  waitForArc: 'Warten: hier brennt ein Lichtbogen',
  recording: {
    heading: 'Aus einer Aufzeichnung',
    what:
      'Eine Aufzeichnung einer Probenaht an dieser Steckdose, als .csv oder .cff, oder als .cfg ' +
      'mit ihrer .dat: dann beide wählen. Sie wird beurteilt und aufbewahrt wie eine Prüfung mit ' +
      'dem Sensor.',
    files: 'Die Aufzeichnung',
    whereNotKnown: 'nicht bekannt',
    whereHint:
      'Nicht bekannt: Es zählt die Spannung am Sensor; eine Verlängerung dahinter ist nicht dabei.',
    where: 'Aufgezeichnet',
    judge: 'Aufzeichnung beurteilen',
    judging: 'Wird beurteilt …',
    none: 'Zuerst eine Aufzeichnung wählen.',
    made: (name) => `aus der Aufzeichnung ${name}`,
  },
  before: 'Früher geprüft',
  noCircuit: 'kein Stromkreis',
  noMachine: 'keine Maschine',
  noCord: 'keine Verlängerung',
  and: 'und',
  cordOf: (length, size) => `${length} Kabel, ${size}`,
  stale: 'Gilt nicht mehr:',
  storedOther: 'Im Betrieb ist hier etwas anderes gespeichert:',
  steps: {
    'no-load': 'Steckdose leer',
    idle: 'Maschine an, kein Lichtbogen',
    'first-bead': 'Probenaht',
    'second-bead': 'Zweite Probenaht',
    judged: 'Beurteilt',
    stopped: 'Abgebrochen',
  },
  stepList: 'Schritte',
  choices: {
    'go-on': 'Weiter',
    again: 'Diesen Schritt noch einmal',
    back: 'Einen Schritt zurück',
    'with-cord': 'Noch eine Naht mit der Verlängerung',
    'full-setting': 'Noch eine Naht bei voller Einstellung',
    judge: 'Beurteilen lassen',
    stop: 'Prüfung abbrechen',
  },
  surely: 'Ja, Prüfung abbrechen',
  unheard: {
    sensor:
      'Der Sensor ist nicht zu hören. Hat er Strom und das Netzwerk der Werkstatt? Die Prüfung ' +
      'geht weiter, sobald er wieder da ist.',
    server:
      'Diese Seite hat ihren Server verloren. Die Prüfung geht weiter, sobald er wieder da ist.',
  },
  mind: 'Achtung:',
  enough: 'Genug gesehen',
  notEnough: 'Noch nicht genug',
  seen: 'Gesehen',
  missing: 'Fehlt',
  advice: (doNow) => `Rat: ${doNow}`,
  beginNew: 'Neue Prüfung beginnen',
  about: (machine, circuit, cord, person, place) =>
    `${machine} an ${circuit}, ${cord}. ${person}, ${place}.`,
  caution:
    'Bei heißem Stecker, Geruch oder Brummen aufhören und ausschalten. Steckdose und Verteiler ' +
    'öffnet nur eine Elektrofachkraft.',
  cord: {
    legend: 'Die Verlängerung',
    thickness: 'Querschnitt',
    none: 'keine Verlängerung',
    length: 'Länge',
    unit: 'Einheit',
    feet: 'ft',
    metres: 'm',
  },
  save: {
    heading: 'Im Betrieb speichern?',
    what:
      'Diese Prüfung hat nichts geändert: Für diese Steckdose ist etwas anderes gespeichert. Ein ' +
      'Leiter kann speichern, was geprüft wurde.',
    cord: (cord) => `Diese Verlängerung für die Steckdose speichern: ${cord}`,
    noCord: 'Für die Steckdose speichern: keine Verlängerung',
    assignment: (machine, circuit) => `${machine} an ${circuit} hier eintragen`,
  },
  result: {
    back: 'Steckdosenprüfungen',
    title: (id) => `Steckdosenprüfung ${id}`,
    noCircuit: 'ein nicht beschriebener Stromkreis',
    noMachine: 'keine Maschine genannt',
    toProve: 'Was es belegen würde',
    right: 'Was es in Ordnung bringt',
    print: 'Drucken',
    tryCords: 'Andere Verlängerungen versuchen',
    again: 'Noch einmal prüfen',
    why: 'Warum',
    cautions: 'Vorsicht',
    measured: 'Was gemessen wurde',
    sensor: 'Sensor',
    empty: 'Steckdose leer',
    idle: 'Maschine an, kein Lichtbogen',
    notTaken: 'nicht gemessen',
    notInRecording: 'aus einer Aufzeichnung nicht zu sagen',
    bead: (count) => `Probenaht ${count}`,
    withCord: 'mit der Verlängerung',
    withoutCord: 'ohne die Verlängerung',
    ofFull: (percent) => `${percent} % des vollen Stroms`,
    lowest: (volts, where) => `niedrigster Wert ${volts} ${where}`,
    supply: 'Netz',
    behind: (volts, ohms) => `${volts} hinter ${ohms}`,
    full: 'Beim vollen Strom des Leistungsschilds',
    between: (volts, low, high) => `${volts} (${low} bis ${high})`,
    notProven: 'nicht belegt',
  },
};
