import { existsSync, readFileSync } from 'node:fs';
import { OperatingError, UsageError } from '../shared/command/outcome.ts';
import {
  parseScenario,
  type Scenario,
  ScenarioError,
  scenarioByName,
  scenarioNames,
} from './electrics/index.ts';

/**
 * A scenario by its name in the catalogue, or from a JSON file.
 * @throws UsageError where it is neither, OperatingError where the file does not hold.
 */
export function scenarioOf(nameOrFile: string): Scenario {
  const known = scenarioByName(nameOrFile);
  if (known) return known;
  if (!existsSync(nameOrFile))
    throw new UsageError(
      `--scenario "${nameOrFile}": no such file, and no scenario; --list tells those there are`,
    );
  try {
    return parseScenario(JSON.parse(readFileSync(nameOrFile, 'utf8')));
  } catch (error) {
    if (error instanceof ScenarioError || error instanceof Error)
      throw new OperatingError(`${nameOrFile}: ${error.message}`);
    throw error;
  }
}

/** A line each: name, and what it shows. */
export const scenarioList = (): string =>
  scenarioNames()
    .map((name) => `${name.padEnd(24)} ${scenarioByName(name)!.says}\n`)
    .join('');
