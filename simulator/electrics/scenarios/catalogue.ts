import { parseScenario } from '../parse-scenario.ts';
import type { Scenario } from '../scenario.ts';
import * as supply from './faults-of-supply.ts';
import * as work from './faults-of-work.ts';
import { harbourLane } from './harbour-lane.ts';
import {
  healthyAluminium,
  healthyBench,
  healthyBraze,
  healthySteel,
  healthyTransformer,
} from './healthy.ts';

/** In the order they are listed. */
const builtIn: readonly { name: string; says: string }[] = [
  harbourLane,
  healthySteel,
  healthyAluminium,
  healthyBraze,
  healthyTransformer,
  healthyBench,
  supply.longThinCord,
  supply.sharedCircuit,
  supply.thinBranch,
  supply.wrongClass,
  supply.weakGenerator,
  supply.openNeutral,
  supply.lostPhase,
  supply.looseTerminal,
  supply.noStrike,
  work.lightBead,
  work.overrunDuty,
  work.coldSetUp,
  work.hotSetUp,
];

/** Names of the built-in scenarios, in the order they are listed. */
export const scenarioNames = (): string[] => builtIn.map(({ name }) => name);

/** A built-in scenario, or null where there is none of that name. */
export function scenarioByName(name: string): Scenario | null {
  const found = builtIn.find((each) => each.name === name);
  return found ? parseScenario(found) : null;
}
