/** Half a step between trade sizes: 0.8 mm is sold as 0.030 in, and is 0.0315. */
const halfStepInches = 0.0025;

/** Whether a list of wire diameters has one, all in inches. */
export const namesWire = (named: readonly number[], askedInches: number): boolean =>
  named.some((each) => Math.abs(each - askedInches) < halfStepInches);
