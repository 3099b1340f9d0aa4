import type { split as english } from '../en/split.ts';

export const split: typeof english = {
  heading: 'Wo die Spannung blieb',
  atArc: (amps) => `Unter diesem Lichtbogen, ${amps}`,
  atFullLoad: (amps) => `Vorhergesagt beim vollen Strom des Leistungsschilds, ${amps}`,
  shares: { building: 'Gebäude', cord: 'Verlängerung', left: 'Bleibt an der Maschine' },
  between: (low, high) => `${low} bis ${high}`,
  picture: (building, cord, left) =>
    `Das Gebäude nahm ${building}, die Verlängerung ${cord}; an der Maschine bleiben ${left}.`,
  more: {
    cord: 'Die Verlängerung nimmt am meisten: eine kürzere oder dickere gibt am meisten zurück.',
    building:
      'Die Leitungen des Gebäudes nehmen am meisten: das ist eine Frage an die Elektrofachkraft.',
    both: 'Gebäude und Verlängerung nehmen etwa gleich viel.',
  },
  twin: {
    outlet: 'Dieselbe Naht an der Steckdose',
    machine: 'Dieselbe Naht an der Maschine',
    counts: 'Für diese Naht zählt das Ende an der Maschine; dieser Lichtbogen wird nicht gemeldet.',
  },
  unproven: 'Für diese Naht sind Gebäude und Verlängerung nicht zu trennen.',
  doubts: {
    pairs: 'Die beiden Sensoren messen verschieden viele Paare.',
    'no-overlap': 'Die beiden Lichtbögen decken nicht dieselbe Zeit.',
    lost: 'Zu viele Messwerte gingen unterwegs verloren.',
    'no-idle': 'An einem Ende war die Spannung vor dem Lichtbogen nicht zu sehen.',
    currents: (outlet, machine) =>
      `An der Steckdose flossen ${outlet}, an der Maschine ${machine}: dort hängt noch etwas, ` +
      'oder die Sensoren sitzen an verschiedenen Stromkreisen.',
    'idle-volts': (outlet, machine) =>
      `Ohne Lichtbogen hatte die Steckdose ${outlet} und die Maschine ${machine}: die Sensoren ` +
      'sitzen an verschiedenen Stromkreisen, oder die Verlängerung gehört nicht dazwischen.',
    swapped: (outlet, machine) =>
      `Die Spannung fiel an der Steckdose um ${outlet} und an der Maschine um ${machine}: die ` +
      'beiden Sensoren sind wohl vertauscht.',
  },
};
