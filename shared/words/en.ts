import { access } from './en/access.ts';
import { arc } from './en/arc.ts';
import { check } from './en/check.ts';
import { circuit } from './en/circuit.ts';
import { feeders } from './en/feeders.ts';
import { flags } from './en/flags.ts';
import { floor } from './en/floor.ts';
import { guns } from './en/guns.ts';
import { jobs } from './en/jobs.ts';
import { page } from './en/page.ts';
import { parts } from './en/parts.ts';
import { people } from './en/people.ts';
import { plan } from './en/plan.ts';
import { remedy } from './en/remedy.ts';
import { settings } from './en/settings.ts';
import { shell } from './en/shell.ts';
import { shop } from './en/shop.ts';
import { split } from './en/split.ts';

/**
 * Every text of the page in English, a file a view. Sentences with figures in them are functions,
 * so that another language may put them in another order. Figures come in already written out.
 */
export const en = {
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

/** What a language must say; the compiler names what one lacks. */
export type Words = typeof en;
