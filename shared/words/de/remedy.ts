import type { remedy as english } from '../en/remedy.ts';

export const remedy: typeof english = {
  back: '← Der Stromkreis',
  heading: 'Was es in Ordnung bringt',
  standsOn: {
    measured: 'Berechnet für das Netz, wie die Nähte an dieser Steckdose es gezeigt haben.',
    described:
      'Nur nach der Beschreibung des Stromkreises berechnet: Noch hat kein Lichtbogen sein Netz ' +
      'gezeigt. Prüfen Sie die Steckdose, bevor Sie sich darauf verlassen.',
    unknown:
      'Das Netz ist nicht bekannt: den Stromkreis beschreiben oder an dieser Steckdose eine ' +
      'Probenaht schweißen.',
  },
  now: (machine, circuit, cords) =>
    `${machine} an ${circuit}, jetzt mit ${cords}, beim vollen Strom des Leistungsschilds: `,
  changes: 'Änderungen, die genügen',
  noneNeeded: 'Es ist keine nötig.',
  noneKnown: 'Keine, die wir kennen.',
  cautions: 'Vorsicht',
  tryCord: 'Eine andere Verlängerung versuchen',
  length: 'Länge',
  thickness: 'Querschnitt',
  noCord: 'keine Verlängerung',
  units: 'Einheiten',
  with: (cords) => `Mit ${cords}: `,
  notForetold: 'nicht vorhersagbar.',
  foretold: (volts, low, high, needs) =>
    `${volts} V bei voller Last, ${low} bis ${high}; das Leistungsschild verlangt ${needs} V.`,
};
