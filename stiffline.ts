#!/usr/bin/env node
/** The front door: a table of verbs, each loading its program; no logic lives here. */
import { runVerb } from './shared/command/door.ts';
import type { Programs } from './shared/command/programs.ts';

const verbs: Programs = {
  run: () => import('./dashboard/commands/run.ts'),
  judge: () => import('./dashboard/commands/judge.ts'),
  convert: () => import('./dashboard/commands/convert.ts'),
  plan: () => import('./dashboard/commands/plan.ts'),
  replay: () => import('./simulator/replay.ts'),
  sensor: () => import('./simulator/main.ts'),
  broker: () => import('./broker/main.ts'),
  serve: () => import('./dashboard/server/main.ts'),
};

process.exitCode = await runVerb(verbs, process.argv.slice(2));
