import type { services as english } from '../en/services.ts';

export const services: typeof english = {
  single: 'Ein Paar',
  'split-phase': 'Zwei Außenleiter eines Einphasen-Dreileiternetzes',
  'wye-208': 'Zwei Außenleiter eines 208-V-Netzes (208Y/120)',
  'wye-legs': 'Zwei Außenleiter eines Sternnetzes',
  'same-leg': 'Ein Außenleiter zweimal',
  'high-leg': 'Ein Dreiecknetz mit hohem Außenleiter',
  'corner-grounded': 'Ein Dreiecknetz mit geerdetem Außenleiter',
  'three-phase': 'Drei Phasen',
  'three-phase-delta': 'Drei Phasen, von Leiter zu Leiter gemessen',
  'phase-twice': 'Eine Phase zweimal',
  'missing-phase': 'Eine Phase fehlt',
  unknown: 'Unbekanntes Netz',
};
