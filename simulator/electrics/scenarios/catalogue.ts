import type { Scenario } from '../scenario.ts';

const harbourLane: Scenario = {
  name: 'harbour-lane',
  says: 'the demo shop',
  bays: ['one', 'two', 'three', 'four'].map((name) => ({
    name: `bay-${name}`,
    plate: null,
    circuit: { name: `Bay ${name}`, volts: 240 },
    sensors: [{ name: `bay-${name}`, at: 'machine' as const }],
  })),
};

/** Names of the built-in scenarios, in the order they are listed. */
export const scenarioNames = (): string[] => [harbourLane.name];

/** A built-in scenario, or null where there is none of that name. */
export const scenarioByName = (name: string): Scenario | null =>
  name === harbourLane.name ? harbourLane : null;
