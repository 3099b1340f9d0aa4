import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import { voltsAtMachine } from './at-machine.ts';
import type { GeneratorEvidence, Setting } from './facts.ts';
import { compare, thinEvidence } from './finding.ts';
import { generatorClassOf } from './generator-class.ts';
import { inVolts, limits } from './limits.ts';
import { type Said, say } from './say.ts';

/** On a generator nothing is foretold: only an arc as heavy as the plate proves full load. */
export function generatorLoad(
  setting: Setting,
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
  const loads = settled.map(({ volts, amps: at }) => ({ volts, amps: at, watts: volts * at }));
  const measured = voltsAtMachine(setting, loads, setting.accuracy.volts);
  const limit = inVolts(limits.plateLow, rated.U1);
  return compare('full-load', measured, limit, 'more', () => ({
    ...say('generatorHolds', {
      ...{ value: measured.value, limit: limit.value, amps: amps / setting.ampsPerLine },
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
