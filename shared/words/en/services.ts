/** What a service is called, as a sentence begins. */
export const services = {
  single: 'One pair',
  'split-phase': 'Two legs of a split phase',
  'wye-208': 'Two legs of a 208 V service (208Y/120)',
  'wye-legs': 'Two legs of a wye',
  'same-leg': 'One leg twice',
  'high-leg': 'A high-leg delta',
  'corner-grounded': 'A corner-grounded delta',
  'three-phase': 'Three phases',
  'three-phase-delta': 'Three phases, measured from line to line',
  'phase-twice': 'One phase twice',
  'missing-phase': 'A phase is missing',
  unknown: 'Unknown service',
};
