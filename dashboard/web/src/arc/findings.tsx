import type { Finding } from '../../../../shared/protocol/judgement.ts';
import { FindingItem } from '../parts/finding-item.tsx';
import { figure } from '../parts/format.ts';
import { ruleSaid } from '../parts/said.ts';
import { words } from '../parts/words.ts';

interface FindingsProps {
  findings: readonly Finding[];
  /** Points out in the charts where a finding speaks of. */
  onShow?(finding: Finding): void;
  shown?: Finding | null;
}

/** What holds the weld down comes first, what could not be asked and is only advice last. */
function rank({ verdict, required }: Finding): number {
  if (verdict === 'unsuited') return -1;
  if (verdict === 'underpowered') return 0;
  if (verdict === 'marginal') return 1;
  if (verdict === 'unproven') return required ? 2 : 4;
  return 3;
}

/** A part of one, which has no unit, is read more easily in percent. */
const limitOf = ({ limit, unit }: Finding) => {
  if (limit === null) return '';
  return words.arc.limit(unit === '1' ? `${figure(100 * limit)} %` : `${figure(limit, 2)} ${unit}`);
};

/** Why: each rule's sentence with limit and source. */
export function Findings({ findings, onShow, shown }: FindingsProps) {
  const ordered = [...findings].sort((a, b) => rank(a) - rank(b));
  const asides = findings.filter((finding) => rank(finding) === 4).length;
  return (
    <section>
      <h2>{words.arc.why}</h2>
      <ul class="findings">
        {ordered.map((finding) => (
          <FindingItem
            key={finding.rule}
            finding={finding}
            limit={limitOf(finding)}
            aside={rank(finding) === 4}
          >
            {finding.atS && onShow && (
              <button
                type="button"
                class="plain no-print"
                aria-pressed={shown === finding}
                onClick={() => onShow(finding)}
              >
                {words.arc.where}
                <span class="unseen">{words.arc.whereRest(ruleSaid(finding.rule))}</span>
              </button>
            )}
          </FindingItem>
        ))}
      </ul>
      {asides > 0 && <p class="source paper-only">{words.arc.notAsked(asides)}</p>}
    </section>
  );
}
