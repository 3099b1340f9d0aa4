import type { ComponentChildren } from 'preact';
import type { Finding } from '../../../../shared/protocol/judgement.ts';
import { ruleSaid, said, saidToElectrician } from './said.ts';
import { VerdictMark, verdictWord } from './verdict-mark.tsx';
import { words } from './words.ts';

interface FindingItemProps {
  finding: Finding;
  /** Beside the rule's name, where there is room for it. */
  limit?: string;
  /** Left off paper: the rule had nothing to ask, and only advises. */
  aside?: boolean;
  children?: ComponentChildren;
}

/** One rule's sentence, the electrician's under it, and where the limit comes from. */
export function FindingItem({ finding, limit = '', aside, children }: FindingItemProps) {
  return (
    <li class={aside ? 'aside' : finding.verdict}>
      <VerdictMark verdict={finding.verdict} size={24} />
      <div>
        <p>
          <strong class={finding.verdict}>{verdictWord(finding.verdict)}</strong> {said(finding)}
        </p>
        {finding.electrician && <p class="electrician">{saidToElectrician(finding)}</p>}
        <p class="source">
          {ruleSaid(finding.rule)}
          {limit}. {said({ says: finding.source })}
          {finding.required ? '' : words.arc.advice}
        </p>
      </div>
      {children}
    </li>
  );
}
