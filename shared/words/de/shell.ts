import type { shell as english } from '../en/shell.ts';

export const shell: typeof english = {
  heading: 'Keine Verbindung',
  since: (since) =>
    since === null ? 'Keine Verbindung zum Server.' : `Keine Verbindung zum Server seit ${since}.`,
  what:
    'Was Sie sehen, ist nur die Hülle der Seite, auf diesem Gerät aufbewahrt. Keine Spannungen, ' +
    'keine Lichtbögen und keine Urteile sind aufbewahrt: nichts hier ist live. Es geht von ' +
    'selbst weiter, sobald der Server antwortet.',
  notFetched: 'Dieser Teil der Seite ließ sich nicht laden.',
  tryNow: 'Jetzt versuchen',
  help:
    'Ist dieses Gerät im Netzwerk der Werkstatt? Ist der Rechner an, auf dem Stiffline läuft? ' +
    'Die Sensoren behalten gemessene Lichtbögen, bis der Server sie übernommen hat.',
  newer: 'Der Server hat eine neuere Seite als diese.',
  loadNewer: 'Laden',
  printed: (when, where) => `Gedruckt ${when}, von ${where}`,
};
