/** A scenario is data: bays with their wiring, machine, welder and sensors. */
export interface Scenario {
  /** Lower-case letters, digits and hyphens. */
  name: string;
  /** One line for `--list`. */
  says: string;
  bays: Bay[];
}

export interface Bay {
  /** Lower-case letters, digits and hyphens. */
  name: string;
  /** Rating plate, plain JSON of the plate contract; null where it is not known. */
  plate: object | null;
  /** Described circuit, plain JSON of the circuit contract. */
  circuit: object;
  sensors: Sensor[];
}

export interface Sensor {
  name: string;
  at: 'outlet' | 'machine';
  rateHz?: number;
  bits?: 12 | 16 | 24;
}

/** A scenario that does not hold: `problems` say where and what would be right. */
export class ScenarioError extends Error {
  readonly problems: readonly { path: string; says: string }[];
  constructor(problems: readonly { path: string; says: string }[]) {
    super(problems.map(({ path, says }) => `${path}: ${says}`).join('; '));
    this.problems = problems;
  }
}

/** @throws ScenarioError naming every path that is off. */
export function parseScenario(json: unknown): Scenario {
  if (typeof json !== 'object' || json === null || !('bays' in json))
    throw new ScenarioError([{ path: 'bays', says: 'is missing: a scenario has bays' }]);
  return json as Scenario;
}
