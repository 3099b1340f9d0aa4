import type { Judgement } from '../protocol/judgement.ts';
import type { Setting } from '../rules/facts.ts';
import type { WatchSetup } from './contract.ts';
import { settle } from './settle.ts';

/** What the rules were told of a judged recording: the same as its watch told them. */
export function recordingSetting(setup: WatchSetup, judgement: Judgement): Setting {
  const idle = judgement.arcs.flatMap(({ channels }) =>
    channels.map(({ idleVolts }) => idleVolts ?? 0),
  );
  const volts = Math.max(0, ...idle) || Math.max(0, ...judgement.whole.map((each) => each.volts));
  const { hertz } = judgement.nominal;
  const nominalHertz = hertz === 50 || hertz === 60 ? hertz : setup.nominalHertz;
  return settle(setup, volts > 0 ? volts : null, nominalHertz);
}
