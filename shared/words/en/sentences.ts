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

/**
 * Every sentence that the rules can say, by name. Each is a function of plain figures, which travel
 * beside the English sentence, so that a page can say it in its own language.
 */
export const sentences = {
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

export type Sentences = typeof sentences;
export type SentenceName = keyof Sentences;
