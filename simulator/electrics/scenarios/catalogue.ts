import { parseScenario, type Scenario } from '../scenario.ts';
import { harbourLane } from './harbour-lane.ts';

/** In the order they are listed. */
const builtIn: readonly { name: string; says: string }[] = [harbourLane];

/** Names of the built-in scenarios, in the order they are listed. */
export const scenarioNames = (): string[] => builtIn.map(({ name }) => name);

/** A built-in scenario, or null where there is none of that name. */
export function scenarioByName(name: string): Scenario | null {
  const found = builtIn.find((each) => each.name === name);
  return found ? parseScenario(found) : null;
}
