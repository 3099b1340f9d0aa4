/** Job sheets: what a coupon lacks. `measured` and `limit` come written out with their unit. */
const things = {
  arcs: 'the welds on it',
  visual: 'the visual test',
  destructive: 'the destructive test',
  undercut: 'undercut',
  porosity: 'porosity',
  'burn-through': 'burn-through',
  size: 'the size of the weld',
  button: 'the button',
  machine: 'the machine',
};

export const jobs = {
  reason: (
    what: keyof typeof things,
    why: 'said' | 'measured' | 'missing' | 'changed',
    measured: string | null,
    limit: string | null,
  ): string => {
    if (what === 'arcs') return 'No weld that the sensor saw belongs to it yet.';
    if (what === 'machine')
      return 'Machine, circuit or cord were changed since it was begun: begin another coupon.';
    if (why === 'measured')
      return `Failed on ${things[what]}: ${measured} measured, the procedure says ${limit}.`;
    if (why === 'said' && what === 'button') return 'Failed: no button was left.';
    if (why === 'said') return `Failed on ${things[what]}.`;
    if (limit !== null)
      return `Measure ${things[what]}: the procedure gives ${limit} as its limit.`;
    return `Not yet done: ${things[what]}.`;
  },
};
