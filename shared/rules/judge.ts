import type { Finding, Verdict } from '../protocol/judgement.ts';
import { burst, burstRule } from './burst.ts';
import { connection } from './connection.ts';
import { cord } from './cord.ts';
import { drop } from './drop.ts';
import { duty } from './duty.ts';
import type {
  ArcEvidence,
  DutyEvidence,
  OtherLoadEvidence,
  PhaseEvidence,
  Rule,
  SagEvidence,
  SensorEvidence,
  Setting,
  SupplyEvidence,
  WaveformEvidence,
} from './facts.ts';
import { feeder } from './feeder.ts';
import { notAsked, thinEvidence } from './finding.ts';
import { fullLoad } from './full-load.ts';
import { heat } from './heat.ts';
import { limits } from './limits.ts';
import { otherLoad } from './other-load.ts';
import { output } from './output.ts';
import { phases } from './phases.ts';
import { plateVoltage } from './plate-voltage.ts';
import { sag } from './sag.ts';
import { say } from './say.ts';
import { doubted, sensor } from './sensor.ts';
import { failedStrikes, strikeVoltage } from './strike-voltage.ts';
import { supplyAmps } from './supply-amps.ts';
import { fold, worse } from './verdict.ts';
import { voltageClass } from './voltage-class.ts';
import { waveform } from './waveform.ts';

/** What was seen around an arc, or over a whole recording. */
export interface Evidence {
  supply: SupplyEvidence;
  /** Between the machine's terminals with the machine idle; null where never seen. */
  openVolts: number | null;
  sags: SagEvidence;
  duty: DutyEvidence;
  others: OtherLoadEvidence;
  phases: PhaseEvidence | null;
  waveform: WaveformEvidence;
  /** Null where samples were not looked at: figures that somebody typed in. */
  sensor: SensorEvidence | null;
}

export interface Judged {
  verdict: Verdict;
  findings: Finding[];
}

const arcRules: readonly Rule<Setting & { arc: ArcEvidence }>[] = [
  plateVoltage,
  strikeVoltage,
  heat,
];
const arcSupplyRules: readonly Rule<Setting & Evidence>[] = [
  fullLoad,
  connection,
  voltageClass,
  phases,
  otherLoad,
  output,
];
const recordingRules: readonly Rule<Setting & Evidence>[] = [
  ...arcSupplyRules,
  sag,
  drop,
  supplyAmps,
  cord,
  duty,
  waveform,
];

/** Every rule, as documents list them. */
export const rules: readonly Pick<Rule<never>, 'id' | 'asks' | 'required' | 'limits'>[] = [
  ...arcRules,
  ...recordingRules,
  feeder,
  sensor,
];

/** One arc, whole or so far, by what was known when it burned. */
export function judgeArc(setting: Setting, arc: ArcEvidence, evidence: Evidence): Judged {
  const ofArc = { ...setting, arc };
  const asked = { ...setting, ...evidence, arc };
  const found: Finding[] = [];
  for (const rule of arcRules) found.push(...rule.ask(ofArc));
  for (const rule of arcSupplyRules) found.push(...rule.ask(asked));
  found.push(...burst(setting, arc), ...sensor.ask(asked));
  const findings = doubted(found);
  return { verdict: fold(findings, setting.plate !== null), findings };
}

/**
 * A whole recording or outlet: the worst arc's own findings (`arcFindings`, from `worstOfArcs`) and
 * what all of it shows.
 */
export function judgeRecording(
  setting: Setting,
  evidence: Evidence,
  arcFindings: readonly Finding[],
): Judged {
  const asked = { ...setting, ...evidence };
  const ofArcs = arcFindings.filter(({ rule }) => arcRuleIds.has(rule));
  const own = ofArcs.length > 0 ? ofArcs : [noArc(setting)];
  const ofAll = recordingRules.flatMap((rule) => rule.ask(asked));
  const findings = doubted([
    ...own.filter(({ rule, required }) => rule !== sensor.id || required),
    ...failedStrikes(setting, evidence.sags),
    ...ofAll.map((each) => noBetter(each, arcFindings)),
    ...sensorOfAll(asked, own),
  ]);
  return { verdict: fold(findings, setting.plate !== null), findings };
}

/** What arcs have shown is not said again, and nothing passed where one of them was in doubt. */
function sensorOfAll(asked: Setting & Evidence, arcFindings: readonly Finding[]): Finding[] {
  const known = arcFindings.filter(({ rule, required }) => rule === sensor.id && required);
  const names = new Set(known.map(({ saying }) => saying?.name));
  return sensor
    .ask({ ...asked, arc: null })
    .filter(({ required, saying }) => known.length === 0 || (required && !names.has(saying?.name)));
}

function noArc(setting: Setting): Finding {
  if (setting.plate === null)
    return notAsked('plate-voltage', limits.plateLow, say('noPlateToJudge'));
  return thinEvidence('plate-voltage', limits.plateLow, { ...say('noArc'), required: true });
}

const arcRuleIds = new Set<string>([...arcRules.map((rule) => rule.id), ...[sensor.id, burstRule]]);
/** What an arc showed of its supply stays true of the recording, whatever came after. */
const keptOfArcs = new Set<string>([...arcRuleIds, fullLoad.id, connection.id]);

/** A whole is never better than what its arcs prove. */
function noBetter(finding: Finding, arcFindings: readonly Finding[]): Finding {
  if (arcRuleIds.has(finding.rule)) return finding;
  const ofArc = arcFindings.find(({ rule }) => rule === finding.rule);
  return ofArc === undefined ? finding : worse(ofArc, finding);
}

/** An arc too light to foretell from says nothing against the heavier ones. */
const isThin = ({ rule, verdict }: Finding): boolean =>
  rule === fullLoad.id && verdict === 'unproven';

/** Keeps, of each rule whose answer an arc proves, the worst finding so far. */
export function worstOfArcs(so: readonly Finding[], next: readonly Finding[]): Finding[] {
  const kept = [...so];
  for (const finding of next) {
    if (!keptOfArcs.has(finding.rule) || isThin(finding)) continue;
    const at = kept.findIndex((each) => each.rule === finding.rule);
    if (at === -1) kept.push(finding);
    else kept[at] = worse(kept[at]!, finding);
  }
  return kept;
}
