import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Volts } from '../units.ts';
import { voltsAtMachine } from './at-machine.ts';
import type { GeneratorEvidence, Setting } from './facts.ts';
import { compare, thinEvidence } from './finding.ts';
import { generatorClassOf } from './generator-class.ts';
import { inVolts, limits } from './limits.ts';
import { type Said, say } from './say.ts';

/**
 * On a generator nothing is foretold: only an arc about as heavy as the plate proves full load.
 * What is missing to I1max is added in proportion to the fall from no load, since a regulator may
 * take back less of it than that, never more.
 */
export function generatorLoad(
  setting: Setting & { openVolts?: Volts | null },
  rated: PlateSupply,
  generator: GeneratorEvidence,
): Finding {
  const settled = generator.settled ?? [];
  const amps = settled.length === 0 ? 0 : Math.min(...settled.map((each) => each.amps));
  const part = amps / setting.ampsPerLine / rated.I1max;
  const electrician = classWords(setting, generator);
  if (part < limits.generatorShare.value) {
    const light = say('generatorLight', { part, amps: rated.I1max });
    return thinEvidence('full-load', limits.plateLow, { ...light, electrician, required: true });
  }
  const open = setting.openVolts ?? null;
  const loads = settled.map(({ volts, amps: at }) => {
    const missing = Math.max(0, (setting.ampsPerLine * rated.I1max) / at - 1);
    const fall = open === null ? 0 : Math.max(0, open - volts) * missing;
    return { volts: volts - fall, amps: at, watts: volts * at };
  });
  const measured = voltsAtMachine(setting, loads, setting.accuracy.volts);
  const limit = inVolts(limits.plateLow, rated.U1);
  return compare('full-load', measured, limit, 'more', () => ({
    ...say('generatorHolds', {
      ...{ value: measured.value, limit: limit.value, amps: rated.I1max },
    }),
    electrician,
    required: true,
  }));
}

/** Beside ISO 8528-5: information. */
export function classWords({ nominalHertz }: Setting, generator: GeneratorEvidence): Said {
  const { hertzIdle, hertzLow, dip, settled } = generator;
  const hertzDip = (hertzIdle - hertzLow) / (nominalHertz ?? hertzIdle);
  const volts = settled === null ? null : Math.min(...settled.map((each) => each.volts));
  return say('generatorClass', { name: generatorClassOf(hertzDip, dip), volts });
}
