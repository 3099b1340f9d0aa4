import { access } from './de/access.ts';
import { arc } from './de/arc.ts';
import { check } from './de/check.ts';
import { circuit } from './de/circuit.ts';
import { feeders } from './de/feeders.ts';
import { flags } from './de/flags.ts';
import { floor } from './de/floor.ts';
import { guns } from './de/guns.ts';
import { jobs } from './de/jobs.ts';
import { page } from './de/page.ts';
import { parts } from './de/parts.ts';
import { people } from './de/people.ts';
import { plan } from './de/plan.ts';
import { remedy } from './de/remedy.ts';
import { sentences } from './de/sentences.ts';
import { settings } from './de/settings.ts';
import { shell } from './de/shell.ts';
import { shop } from './de/shop.ts';
import { sources } from './de/sources.ts';
import { split } from './de/split.ts';
import { cautions } from './en/cautions.ts';
import { toDo } from './en/to-do.ts';
import type { Words } from './en.ts';

/** Every text of the page in German. */
export const de: Words = {
  access,
  arc,
  check,
  circuit,
  feeders,
  flags,
  floor,
  guns,
  jobs,
  page,
  parts,
  people,
  plan,
  remedy,
  settings,
  shell,
  shop,
  split,
};

/**
 * What the server says, in German: by name, by its English where it has no name, and which names
 * the English has that stands alone. English itself needs none of it: it is said as it came.
 */
export const germanOf = { sentences, unnamed: sources, byEnglish: { ...cautions, ...toDo } };
