/** What would make an outlet right: the cord tried, and the changes that would do. */
export const remedy = {
  back: '← The circuit',
  heading: 'What would make it right',
  standsOn: {
    measured: 'Worked out on the supply that the arcs at this outlet have shown.',
    described:
      'Worked out from the circuit’s description alone: no arc has shown its supply yet. ' +
      'Check the outlet before you count on it.',
    unknown: 'The supply is not known: describe the branch, or weld a bead at this outlet.',
  },
  now: (machine: string, circuit: string, cords: string) =>
    `${machine} at ${circuit}, now with ${cords}, at its plate’s full current: `,
  changes: 'Changes that would do',
  noneNeeded: 'None is needed.',
  noneKnown: 'None that we know of.',
  cautions: 'Cautions',
  tryCord: 'Try another cord',
  length: 'Length',
  thickness: 'Wire size',
  noCord: 'no cord',
  units: 'Units',
  with: (cords: string) => `With ${cords}: `,
  notForetold: 'not foretold.',
  foretold: (volts: string, low: string, high: string, needs: string) =>
    `${volts} V at full load, ${low} to ${high}; the plate needs ${needs} V.`,
};
