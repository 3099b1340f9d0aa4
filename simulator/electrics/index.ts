/** The electric world of a shop: pure, seeded, advanced by being read. */

export { parseScenario, ScenarioError } from './parse-scenario.ts';
export type { Point, TrueArc, TrueSupply, Truth } from './plant.ts';
export { createPlant } from './plant.ts';
export type { Scenario } from './scenario.ts';
export { scenarioByName, scenarioNames } from './scenarios/catalogue.ts';
