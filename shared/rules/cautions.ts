import type { Finding } from '../protocol/judgement.ts';
import { cautions } from '../words/en/cautions.ts';
import type { Setting } from './facts.ts';

/** What must be said with a judgement, the urgent first. */
export function cautionsFor(setting: Setting, findings: readonly Finding[]): string[] {
  const said = (rule: string) =>
    findings.filter((finding) => finding.rule === rule).map((finding) => finding.verdict);
  const bad = (rule: string) => said(rule).includes('underpowered');
  return [
    ...(findings.some(({ verdict }) => verdict === 'unsuited') ? [cautions.wrongSupply()] : []),
    ...(bad('phases') && setting.service?.arrangement === 'split-phase'
      ? [cautions.neutral()]
      : []),
    ...(findings.some(mayBeHot) ? [cautions.hotPlug()] : []),
    ...(setting.place === 'unstated' ? [cautions.placeUnstated()] : []),
    ...((setting.circuit?.cords ?? []).length > 0 ? [cautions.cord()] : []),
    cautions.adequateMeans(),
    cautions.manualRules(),
    cautions.forElectrician(),
  ];
}

/** A weak supply may be a bad contact; a resistance that changed is one. */
const mayBeHot = ({ rule, verdict, required }: Finding): boolean =>
  verdict === 'underpowered' || (rule === 'connection' && required);
