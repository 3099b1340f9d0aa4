import type { circuit as english } from '../en/circuit.ts';

export const circuit: typeof english = {
  looking: 'Suche …',
  none: 'Diesen Sensor gibt es hier nicht',
  noneCalled: (id) => `Kein Sensor heißt „${id}“.`,
  sensor: (name) => `Sensor ${name}`,
  describe: 'Stromkreis beschreiben',
  check: 'Steckdose prüfen',
  makeRight: 'Was es in Ordnung bringt',
  hangs: 'Was daran hängt',
  place: {
    question: 'Wo sitzt dieser Sensor: an der Steckdose oder an der Maschine?',
    why:
      'Bis dahin gelten Urteile am Sensor: Eine Verlängerung dahinter nimmt mehr Spannung weg. ' +
      'Die Antwort steht beim Stromkreis und gilt ab der nächsten Naht.',
    outlet: 'An der Steckdose',
    machine: 'An der Maschine',
    noCircuit: 'Zuerst den Stromkreis wählen',
  },
  pair: (pair) => `Paar ${pair}`,
  olderRows: 'Ältere zeigen',
  live: {
    heading: 'Die letzte Minute',
    hold: 'Anhalten',
    goOn: 'Weiter',
    volts: 'Volt',
    amps: 'Ampere',
    watts: 'Watt',
    onBand: 'auf dem Band, das das Leistungsschild zulässt',
    says: (what, seconds) => `${what}, die letzten ${seconds} Sekunden, live`,
  },
  history: {
    heading: 'Verlauf',
    span: 'Wie viel auf einmal',
    spans: { tenMinutes: '10 min', hour: '1 h', shift: '8 h', day: '24 h', week: '7 Tage' },
    earlier: 'Früher',
    later: 'Später',
    now: 'Jetzt',
    save: 'Als CSV sichern',
    volts: (step) => `Volt: niedrigste und höchste Halbwelle je ${step}`,
    amps: (step) => `Ampere: niedrigste und höchste Halbwelle je ${step}`,
    loads: (count) =>
      count === 1 ? '; die Marke ist eine fremde Last' : `; die ${count} Marken sind fremde Lasten`,
    stretch: (from, to) => `Von ${from} bis ${to}.`,
    lowest: 'niedrigste',
    highest: 'höchste',
  },
  loads: {
    heading: 'Fremde Lasten an diesem Netz',
    none: 'Keine in dieser Zeit: kein Sprung, den der eigene Strom der Maschine nicht erklärt.',
    looked: 'Gesucht wird, solange Messwerte kommen: um Lichtbögen und Einbrüche herum.',
    summary: (count, more, listed) =>
      `${count}${more ? ' und mehr' : ''} in dieser Zeit` +
      (listed < count ? `, die jüngsten ${listed} in der Liste` : ''),
    when: 'Wann',
    volts: 'Spannung, V',
    amps: 'Wie eine Last von, A',
    during: 'Lichtbogen',
    yes: 'ja',
    no: 'nein',
  },
  supply: {
    heading: 'Das Netz, wie Lichtbögen es zeigten',
    none: 'Nicht bekannt: kein Lichtbogen dieser Zeit hat es gut genug gezeigt.',
    ohmsR: 'Widerstand R des Netzes, mit dem, was die Schätzung offen lässt (95 %)',
    ohmsX: 'Blindwiderstand X des Netzes, mit dem, was die Schätzung offen lässt (95 %)',
    low: 'von',
    high: 'bis',
    ohms: (value, low, high) => `${value} Ω (${low} bis ${high})`,
    risen: (before, now) =>
      `Der Widerstand ist gestiegen: ${before} in den ersten Wochen, jetzt ${now}. Eine Klemme ` +
      'oder ein Steckkontakt kann sich gelockert haben. Eine Elektrofachkraft nachsehen lassen; ' +
      'heißer Stecker oder verfärbte Dose: aufhören.',
    steady: (before, now) =>
      `Kein Anstieg über das hinaus, was warme Leitung macht: ${before} in den ersten Wochen, ` +
      `jetzt ${now}.`,
    few: (now) => `Jetzt ${now}; noch zu wenige Lichtbögen, um einen Anstieg zu erkennen.`,
    ofPair: (pair, text) => `Paar ${pair}: ${text}`,
    why:
      'Als gestiegen gilt ein 95-%-Bereich, der ganz über dem der ersten Wochen liegt (übliche ' +
      'Praxis).',
  },
  arcs: {
    heading: 'Lichtbögen',
    none: 'Noch kein Lichtbogen.',
    earlier: 'Frühere Lichtbögen',
    beside: 'Die beiden nebeneinander',
    save: 'Alle als CSV sichern',
    compare: (clock) => `Den Lichtbogen von ${clock} vergleichen`,
    acknowledged: (by) => `bestätigt von ${by}`,
  },
  enough: {
    caption: 'Reicht es? Die niedrigste Spannung jedes Lichtbogens über seinem Strom',
    x: 'Netzstrom, A',
    y: 'niedrigste 200 ms, V',
    under: 'unter dieser Linie ist es weniger, als das Leistungsschild verlangt',
    full: (amps) => `Volllast ${amps} A`,
    says: (arcs, needs, amps) =>
      `${arcs} Lichtbögen; das Leistungsschild verlangt ${needs} V, bis ${amps} A.`,
    foretold: (volts, low) => `Vorhergesagt bei Volllast: ${volts} V, von ${low} an.`,
    list: 'Die Liste unten hat jeden Lichtbogen.',
  },
  sags: {
    heading: 'Spannungseinbrüche des letzten Tages',
    none: 'Keine: die Spannung fiel nicht unter 90 % der Nennspannung.',
    says: (count) => `${count} Einbrüche am letzten Tag, wie tief über wie lang.`,
    caption: (count, more) =>
      `${count}${more ? ' und mehr' : ''} Einbrüche: Restspannung über der Dauer`,
    x: 'Dauer',
    y: 'Rest der Nennspannung',
    newest: (count) => `Die neuesten ${count}`,
    table: 'Einbrüche',
    when: 'Wann',
    left: 'Rest, V',
    depth: 'Tiefe, %',
    lasted: 'Dauer, s',
    category: 'Nach IEEE 1159',
    noCategory: 'keine seiner Klassen',
  },
};
