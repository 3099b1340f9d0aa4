import type { Judgement } from '../protocol/judgement.ts';
import type { Setting } from '../rules/facts.ts';
import type { WatchSetup } from './contract.ts';
import { seenInArcs } from './seen-in-arcs.ts';
import { type Seen, settle } from './settle.ts';

/** What the rules were told of a judged recording: the same as its watch told them. */
export function recordingSetting(setup: WatchSetup, judgement: Judgement): Setting {
  const { hertz } = judgement.nominal;
  const nominalHertz = hertz === 50 || hertz === 60 ? hertz : setup.nominalHertz;
  const seen = seenInArcs(judgement.arcs, setup.pairs) ?? ofWhole(judgement);
  return settle(setup, seen, nominalHertz);
}

/** Of a record in which nobody welded. */
function ofWhole({ whole, service }: Judgement): Seen | null {
  if (service === null) return null;
  return { volts: [...whole.map(({ volts }) => volts), ...service.voltsBetween], carries: null };
}
