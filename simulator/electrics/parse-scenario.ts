import { contradictions } from './contradictions.ts';
import { type Scenario, scenario } from './scenario.ts';
import type { Problem, Shape } from './schema.ts';

/** A scenario that does not hold: `problems` say where and what would be right. */
export class ScenarioError extends Error {
  readonly problems: readonly Problem[];
  constructor(problems: readonly Problem[]) {
    super(problems.map(({ path, says }) => `${path} ${says}`).join('; '));
    this.problems = problems;
  }
}

/** @throws ScenarioError naming every path that is off. */
export function parseScenario(json: unknown): Scenario {
  const problems: Problem[] = [];
  const read = (scenario as Shape<Scenario>).read(json, '', problems);
  if (problems.length === 0) problems.push(...contradictions(read));
  if (problems.length > 0) throw new ScenarioError(problems);
  return read;
}
