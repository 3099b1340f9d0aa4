import type { Sentences } from '../en/sentences.ts';
import { cautions } from './cautions.ts';
import { changes } from './changes.ts';
import { checking } from './checking.ts';
import { connection } from './connection.ts';
import { current } from './current.ts';
import { output } from './output.ts';
import { planning } from './planning.ts';
import { proposals } from './proposals.ts';
import { sensor } from './sensor.ts';
import { surroundings } from './surroundings.ts';
import { toDo } from './to-do.ts';
import { voltage } from './voltage.ts';
import { wiring } from './wiring.ts';

export const sentences: Sentences = {
  ...voltage,
  ...surroundings,
  ...wiring,
  ...current,
  ...output,
  ...connection,
  ...cautions,
  ...proposals,
  ...planning,
  ...checking,
  ...changes,
  ...toDo,
  ...sensor,
};
