/** Underpowered arcs that nobody has acknowledged yet. */
export const flags = {
  heading: 'Flagged arcs',
  headingOf: (place: string) => `Flagged arcs: ${place}`,
  what:
    'Each of these welds had less electricity than the machine’s plate needs, or the wrong ' +
    'voltage. To acknowledge says that you know of it and will see to the weld. It does not make ' +
    'the weld good.',
  nameFirst: 'Write your name first: a flag is taken down by a person.',
  none: 'No flag stands.',
  all: (count: number) => `Acknowledge all ${count} shown`,
  one: 'Acknowledge',
  oneOf: (time: string) => ` the arc of ${time}`,
  noMachine: 'no machine named',
};
