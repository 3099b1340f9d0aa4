/** What carries several circuits: the list, its loads and the editor. */
export const feeders = {
  heading: 'Feeders',
  what: 'Each against the machines that are plugged in on its circuits now.',
  add: 'Add a feeder',
  newFeeder: 'A new feeder',
  name: 'Feeder',
  describe:
    'What carries several circuits from one panel to another. What nobody knows, leave empty; ' +
    'nothing is guessed.',
  conductor: 'Conductor',
  atOnce: 'Machines burning at once',
  atOnceSuch: 'Empty: half of them, and two at least',
  circuits: 'Circuits on it',
  noCircuits: 'No circuit is described yet.',
  now: 'What hangs on it now',
  retireSays:
    'Retired, it is no longer judged or planned with, and its circuits can hang on another. It ' +
    'is kept, with all its versions.',
};
