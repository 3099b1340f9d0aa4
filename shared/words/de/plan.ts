import type { plan as english } from '../en/plan.ts';

export const plan: typeof english = {
  cheapest: 'Günstigste Auswahl',
  cheapestSame: 'Die kleinste Auswahl ist auch die günstigste.',
  feeders: 'Zuleitungen',
  group: (machines) => `So viel kann zugleich daran hängen: ${machines}`,
  noMachine: 'Keine Maschine des Plans passt an ihre Stromkreise.',
  groupAmps: 'Effektiver Strom der Gruppe',
  fullAmps: 'Volle Netzströme, zusammengezählt',
  carries: 'Ihr Leiter darf führen',
  farEnd: 'An ihrem Ende, wenn mehrere zugleich schweißen',
  neither:
    'Keine der beiden Zahlen ist ein Nachweis: eine Elektrofachkraft und die örtlichen ' +
    'Vorschriften entscheiden.',
  yourselves: 'Selbst:',
  anElectrician: 'Elektrofachkraft:',
};
