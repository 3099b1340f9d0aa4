import { type Duty, dutyWindowSeconds } from '../metrology/duty.ts';
import type { Judgement, QualityFigures, WholeFigures } from '../protocol/judgement.ts';
import { toldService } from '../rules/arrangement.ts';
import { cautionsFor } from '../rules/cautions.ts';
import type { DutyEvidence, Setting } from '../rules/facts.ts';
import { judgeRecording } from '../rules/judge.ts';
import { say } from '../rules/say.ts';
import type { EpochMicros, Hertz, Seconds } from '../units.ts';
import type { ArcWatch } from './arc-watch.ts';
import type { WatchSetup } from './contract.ts';
import type { SagLog } from './sag-log.ts';
import type { SensorWatch } from './sensor-watch.ts';
import type { Supplies } from './supplies.ts';
import type { Surroundings } from './surroundings.ts';

/** All that a watch has gathered. */
interface Gathered {
  setup: WatchSetup;
  format: string;
  durationS: Seconds;
  setting: Setting;
  frequencyHz: Hertz | null;
  whole: WholeFigures[];
  surroundings: Surroundings;
  supplies: Supplies | null;
  sensor: SensorWatch | null;
  /** Null where it is not asked for. */
  quality: QualityFigures | null;
  arcs: ArcWatch | null;
  sags: SagLog;
  duty: Duty;
}

/** The judgement of a whole stream. */
export function tellJudgement(gathered: Gathered): Judgement {
  const { setup, setting, surroundings, supplies, arcs, sags, duty } = gathered;
  const nobody = setting.loops.map(() => null);
  const seen = supplies?.evidence(setting.loops) ?? { pairs: nobody, behaviour: 'unknown' };
  const supply = { ...seen, loaded: arcs?.loaded(setting, null) ?? nobody.map(() => 0) };
  const evidence = {
    supply,
    openVolts: surroundings.openVoltsOf(setting.loops),
    sags: sags.evidence(),
    duty: dutyEvidence(duty, setup.rateHz),
    others: supplies?.others(0, setting.loops) ?? { count: 0, worst: null, searched: false },
    phases: surroundings.phases('all'),
    waveform: surroundings.waveform(),
    sensor: gathered.sensor?.evidence() ?? null,
  };
  const { verdict, findings } = judgeRecording(setting, evidence, arcs?.worst ?? []);
  return {
    schema: 'stiffline.judgement/1',
    recording: {
      format: gathered.format,
      rateHz: setup.rateHz,
      pairs: setup.pairs,
      durationS: gathered.durationS,
      startedAt: setup.startedAt === null ? null : timeOf(setup.startedAt),
    },
    nominal: { volts: setting.nominalVolts, hertz: setting.nominalHertz },
    frequencyHz: gathered.frequencyHz,
    whole: gathered.whole,
    arcs: arcs?.kept.map(({ arc }) => arc) ?? [],
    sags: sags.kept,
    swells: sags.keptSwells,
    duty: {
      windowS: dutyWindowSeconds as 600,
      highestFraction: duty.highest,
      measuredI1effAmps: duty.i1eff,
    },
    supply: supplies?.told() ?? Array.from({ length: setup.pairs }, () => null),
    service: setting.service && toldService(setting.service),
    machine: { behaviour: supply.behaviour },
    ...gathered.quality,
    place: setting.place ?? 'unstated',
    findings,
    verdict,
    cautions: [
      ...backwards(gathered.whole),
      ...cautionsFor(setting, findings),
      ...leftOut(gathered),
    ],
  };
}

/** A welder never feeds the supply; less than this power factor may be a mere offset. */
function backwards(whole: readonly WholeFigures[]): string[] {
  return whole.flatMap(({ powerFactor }, index) =>
    powerFactor !== null && powerFactor < -0.2 ? [say('backwards', { pair: index + 1 }).says] : [],
  );
}

function dutyEvidence(duty: Duty, rateHz: Hertz): DutyEvidence {
  const end = duty.highestAt === null ? null : duty.highestAt / rateHz;
  return {
    highestFraction: duty.highest,
    effectiveAmps: duty.i1eff,
    atS: end === null ? null : [end - dutyWindowSeconds, end],
  };
}

/** Lists have a bound; what they leave out is said. */
function leftOut({ arcs, sags }: Gathered): string[] {
  const more = (all: number, kept: number, what: 'arcs' | 'sags' | 'swells') =>
    all > kept && kept > 0 ? [say('notListed', { count: all - kept, what }).says] : [];
  return [
    ...more(arcs?.count ?? 0, arcs?.kept.length ?? 0, 'arcs'),
    ...more(sags.count, sags.kept.length, 'sags'),
    ...more(sags.swellCount, sags.keptSwells.length, 'swells'),
  ];
}

/** RFC 3339 UTC, by the epoch's own count: no clock is asked. */
const timeOf = (micros: EpochMicros): string => new Date(micros / 1000).toISOString();
