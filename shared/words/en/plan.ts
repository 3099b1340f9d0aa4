/** What planning says of sets, feeders and proposed changes. */
export const plan = {
  cheapest: 'Cheapest set',
  cheapestSame: 'The smallest set is the cheapest too.',
  feeders: 'Feeders',
  group: (machines: string) => `As much as can hang on it at once: ${machines}`,
  noMachine: 'No machine of the plan suits its circuits.',
  groupAmps: 'Effective amperes of the group',
  fullAmps: 'Full primary currents, added',
  carries: 'Its conductor may carry',
  farEnd: 'At its far end with several at once',
  neither: 'Neither count is compliance: a licensed electrician and the local code decide.',
  yourselves: 'Yourselves:',
  anElectrician: 'An electrician:',
};
