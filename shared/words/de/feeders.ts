import type { feeders as english } from '../en/feeders.ts';

export const feeders: typeof english = {
  heading: 'Speiseleitungen',
  what: 'Jede gegen die Maschinen, die jetzt an ihren Stromkreisen eingesteckt sind.',
  add: 'Eine Speiseleitung anlegen',
  newFeeder: 'Eine neue Speiseleitung',
  name: 'Speiseleitung',
  describe:
    'Was mehrere Stromkreise von einem Verteiler zum anderen speist. Was niemand weiß, bleibt ' +
    'leer; geraten wird nichts.',
  conductor: 'Leiter',
  atOnce: 'Maschinen, die zugleich schweißen',
  atOnceSuch: 'Leer: die Hälfte, wenigstens zwei',
  circuits: 'Stromkreise daran',
  noCircuits: 'Noch ist kein Stromkreis beschrieben.',
  now: 'Was jetzt daran hängt',
  retireSays:
    'Ausgemustert wird sie nicht mehr beurteilt und eingeplant, und ihre Stromkreise können an ' +
    'einer anderen hängen. Sie bleibt erhalten, mit allen Fassungen.',
};
