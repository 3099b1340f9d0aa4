/** One weld seen at both ends of a cord: who took the voltage. */
export const split = {
  heading: 'Where the volts went',
  atArc: (amps: string) => `Under this arc, ${amps}`,
  atFullLoad: (amps: string) => `Foretold at the plate’s full current, ${amps}`,
  shares: { building: 'Building', cord: 'Cord', left: 'Left at the machine' },
  between: (low: string, high: string) => `${low} to ${high}`,
  picture: (building: string, cord: string, left: string) =>
    `The building took ${building}, the cord ${cord}; ${left} are left at the machine.`,
  more: {
    cord: 'The cord takes the most: a shorter or heavier one gives back the most.',
    building:
      'The building’s wiring takes the most: that is a question for a licensed electrician.',
    both: 'Building and cord take about the same.',
  },
  twin: {
    outlet: 'The same weld at the outlet',
    machine: 'The same weld at the machine',
    counts: 'The machine’s end counts for this weld; this arc raises no flag of its own.',
  },
  unproven: 'Building and cord cannot be told apart for this weld.',
  doubts: {
    pairs: 'The two sensors measure different numbers of pairs.',
    'no-overlap': 'The two arcs do not cover the same time.',
    lost: 'Too many samples were lost on the way.',
    'no-idle': 'The voltage before the arc was not seen at one of the ends.',
    currents: (outlet: string, machine: string) =>
      `${outlet} flowed at the outlet and ${machine} at the machine: something else hangs there, ` +
      'or the sensors sit on different circuits.',
    'idle-volts': (outlet: string, machine: string) =>
      `With no arc the outlet had ${outlet} and the machine ${machine}: the sensors sit on ` +
      'different circuits, or the cord does not belong between them.',
    swapped: (outlet: string, machine: string) =>
      `The voltage fell by ${outlet} at the outlet and by ${machine} at the machine: the two ` +
      'sensors look swapped.',
  },
};
