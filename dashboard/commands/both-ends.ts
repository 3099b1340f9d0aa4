import { OperatingError } from '../../shared/command/outcome.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { DropSplit } from '../../shared/protocol/split.ts';
import { overlapOf, splitDrop } from '../../shared/rules/split.ts';
import { align } from '../../shared/watch/align.ts';
import type { WatchedArc } from '../../shared/watch/contract.ts';
import { recordingSetting } from '../../shared/watch/recording-setting.ts';
import type { JudgedFile } from './judge-file.ts';

/** Two recordings of the same welds: the key `ends` of the machine end's judgement. */
export interface Ends {
  /** By the recordings' own times, or by the shape of the current. */
  alignedBy: 'time' | 'current';
  /** To be added to the machine end's seconds to get the outlet's. */
  lagS: number;
  /** Arcs of both lists (1-based) that are one weld, with who took the voltage. */
  arcs: { outlet: number; machine: number; split: DropSplit }[];
  outlet: Judgement;
}

/** Part of the longer that both must cover to be looked at as one weld. */
const leastOverlap = 0.5;
/** Once a weld is known for one, its strike is one moment: clocks may differ by so much. */
const clocksApartS = 0.3;

const refusals = {
  'no-arc': 'no arc in one of the two, so nothing says how they lie in time',
  unlike: 'their currents are nowhere alike: they are no recordings of the same welds',
  ambiguous: 'their currents fit in more than one place; recordings that carry their time decide',
};

/** @throws OperatingError where the two cannot be laid side by side. */
export function bothEnds(paths: [string, string], outlet: JudgedFile, machine: JudgedFile): Ends {
  const found = align(outlet.stream, machine.stream);
  const names = `${paths[0]} and ${paths[1]}`;
  if (found.by === null) throw new OperatingError(`${names}: ${refusals[found.why]}`);
  const setting = recordingSetting(machine.setup, machine.judgement);
  const arcs = machine.stream.arcs.flatMap((at, index) => {
    const here = spanOf(at, found.lagS);
    const twin = outlet.stream.arcs.findIndex(
      (each) => overlapOf(here, spanOf(each, 0)) >= leastOverlap,
    );
    if (twin === -1) return [];
    const by = outlet.stream.arcs[twin]!;
    const there = spanOf(by, 0);
    const apartS = there.startS - here.startS;
    const shift = Math.abs(apartS) < clocksApartS ? -apartS : 0;
    const split = splitDrop(
      setting,
      { ...spanOf(by, shift), arc: by.arc, supply: by.supply },
      { ...here, arc: at.arc, supply: at.supply },
    );
    return [{ outlet: twin + 1, machine: index + 1, split }];
  });
  if (arcs.length === 0)
    throw new OperatingError(
      `${names}: no arc of one falls on an arc of the other by the times that they carry ` +
        `(${outlet.judgement.recording.startedAt}, ${machine.judgement.recording.startedAt})`,
    );
  return { alignedBy: found.by, lagS: found.lagS, arcs, outlet: outlet.judgement };
}

const spanOf = ({ arc }: WatchedArc, lagS: number) => ({
  startS: arc.startS + lagS,
  endS: arc.endS + lagS,
});
