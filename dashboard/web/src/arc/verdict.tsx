import type { ArcDetail } from '../../../../shared/protocol/http.ts';
import { clock, figure, when } from '../parts/format.ts';
import { Ladder } from '../parts/ladder.tsx';
import { ladderFacts } from '../parts/plate-band.ts';
import { said } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';

/** The verdict first: word and shape, the sentence, whose arc it was, and the ladder. */
export function Verdict({ detail }: { detail: ArcDetail }) {
  const { arc, summary, plate, circuit } = detail;
  const facts = ladderFacts(arc, plate, circuit, null);
  return (
    <section class={`verdict ${arc.verdict}`}>
      <VerdictMark verdict={arc.verdict} size={56} />
      <div>
        <p class="what">{words.arc.title(summary.id)}</p>
        <h1 tabIndex={-1}>{verdictWord(arc.verdict, arc.place)}</h1>
        <p class="sentence">{said(summary)}</p>
        <p class="where">
          {[
            summary.circuitName ?? words.arc.noCircuit,
            summary.plateName ?? words.arc.noMachine,
            when(summary.startedAt),
            `${figure(arc.durationS)} s`,
          ].join(' · ')}
          {summary.acknowledged && ` · ${acknowledgedBy(summary.acknowledged)}`}
        </p>
      </div>
      {facts && <Ladder facts={facts} />}
    </section>
  );
}

const acknowledgedBy = ({ by, at }: { by: string; at: string }): string =>
  words.arc.acknowledged(by, clock(at));
