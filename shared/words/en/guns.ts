/** What a machine is set up for, and the guns that stay on it. */
export const guns = {
  processes: 'Set up for',
  heading: 'Guns, where several stay on the machine',
  more: 'Another gun',
  name: 'Gun',
  rest: 'What a gun leaves empty is as above for the whole machine.',
};
