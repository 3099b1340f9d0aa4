/**
 * What must speak for each class of the drawn supplies: one of the rules, at a verdict that is not
 * good. A healthy class has none: any verdict but `underpowered` and `unsuited` is right for it.
 */
const low = ['plate-voltage', 'full-load', 'connection'];
export const rulesOf: Readonly<Record<string, readonly string[]>> = {
  'weak-steady': low,
  'weak-drifting': low,
  'weak-light-bead': low,
  'connection-fails-between': ['connection', 'plate-voltage', 'full-load'],
  'contact-heats-within': ['connection', 'plate-voltage', 'full-load'],
  'weak-generator': ['waveform'],
  'recovers-after': low,
  'low-in-the-middle': low,
  'clipped-voltage': ['sensor'],
  'clipped-current': ['sensor'],
  'current-scale-large': ['sensor'],
  'reversed-current': ['sensor'],
  'one-tack': ['full-load', 'plate-voltage', 'strike-voltage'],
  'wye-under-240': ['voltage-class'],
  'same-leg-twice': ['phases', 'voltage-class'],
  'weak-split': low,
  'swapped-amps': ['sensor'],
  'weak-120-on-two': low,
  'weak-three': low,
  'one-weak-line': [...low, 'phases'],
  'phase-twice': ['phases', 'sensor'],
  'missing-phase': ['phases'],
  'wrong-class-high': ['voltage-class'],
  'wrong-class-low': ['voltage-class'],
  'neighbour-masks': low,
  'weak-coarse': low,
  'weak-slow-or-fast': low,
  'weak-one-arc': low,
  'weak-sagging-town': low,
  'wild-leg': ['voltage-class', 'phases'],
  'weak-lines-of-delta': low,
  'weak-line-pair-of-three': low,
};
