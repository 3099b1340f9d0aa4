import type { flags as english } from '../en/flags.ts';

export const flags: typeof english = {
  heading: 'Gemeldete Lichtbögen',
  headingOf: (place) => `Gemeldete Lichtbögen: ${place}`,
  what:
    'Jede dieser Nähte hatte weniger Strom, als das Leistungsschild der Maschine verlangt, oder ' +
    'die falsche Spannung. Bestätigen heißt: Sie wissen davon und kümmern sich um die Naht. Gut ' +
    'wird sie davon nicht.',
  nameFirst: 'Bitte zuerst den Namen: Eine Meldung nimmt ein Mensch ab.',
  none: 'Keine Meldung steht an.',
  all: (count) => `Alle ${count} gezeigten bestätigen`,
  one: 'Bestätigen',
  oneOf: (time) => ` (Lichtbogen von ${time})`,
  noMachine: 'keine Maschine genannt',
};
