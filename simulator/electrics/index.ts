/** The electric world of a shop: pure, seeded, advanced by being read. */

export type { Plant, Point, PointAbout, TrueArc, TrueSupply, Truth } from './plant.ts';
export { createPlant } from './plant.ts';
export type { TrueFault } from './record.ts';
export type { Bay, Scenario, Sensor } from './scenario.ts';
export { parseScenario, ScenarioError } from './scenario.ts';
export { scenarioByName, scenarioNames } from './scenarios/catalogue.ts';
