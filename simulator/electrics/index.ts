/** The electric world of a shop: pure, seeded, advanced by being read. */

export type { Point, TrueArc, TrueSupply, Truth } from './plant.ts';
export { createPlant } from './plant.ts';
export type { Scenario } from './scenario.ts';
export { parseScenario, ScenarioError } from './scenario.ts';
export { scenarioByName, scenarioNames } from './scenarios/catalogue.ts';
