import type {
  GeneratorEvidence,
  Rule,
  Setting,
  SupplyEvidence,
  WaveformEvidence,
} from './facts.ts';
import { advise, notAsked, reading, state } from './finding.ts';
import { generatorClassSource } from './generator-class.ts';
import { classWords } from './generator-load.ts';
import { limits } from './limits.ts';
import { say } from './say.ts';

const id = 'waveform';
type Asked = Setting & { waveform: WaveformEvidence; supply: SupplyEvidence };

/** A generator wanders in frequency, an overloaded transformer flattens the wave: advice. */
export const waveform: Rule<Asked> = {
  id,
  asks: 'frequency and distortion of the voltage: generator or overloaded transformer',
  required: 'never',
  limits: [limits.frequency, limits.generatorSize, limits.distortion, limits.crest],
  ask(asked) {
    const findings = [
      ...rating(asked),
      ...(asked.supply.generator ? [engine(asked, asked.supply.generator)] : frequency(asked)),
      ...distortion(asked),
      ...flatTop(asked),
    ];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.distortion, say('waveformTooShort'))];
  },
};

/** Half the gap between 50 and 60 Hz tells which of them a supply is. */
function rating({ plate, waveform: { hertzLow, hertzHigh } }: Asked) {
  if (!plate?.hertz || hertzLow === null || hertzHigh === null) return [];
  const supply = (hertzLow + hertzHigh) / 2 < 55 ? 50 : 60;
  if (plate.hertz.includes(supply)) return [];
  return [state(id, 'marginal', say('wrongFrequency', { supply, plate: plate.hertz }))];
}

/** What it did, and how large it must be; a sound set may dip, so this is advice. */
function engine(asked: Asked, generator: GeneratorEvidence) {
  const { hertzLow: low, hertzHigh: high, dip } = generator;
  const { plate, rated } = asked;
  const lines = plate?.phases === 3 ? Math.sqrt(3) : 1;
  const kva = rated && (limits.generatorSize.value * lines * rated.U1 * rated.I1max) / 1000;
  const electrician = classWords(asked, generator);
  const words = { ...say('generator', { low, high, dip, kva }), electrician };
  return state(id, 'marginal', words, generatorClassSource, 'Hz');
}

function frequency({ nominalHertz, waveform: { hertzLow, hertzHigh } }: Asked) {
  if (nominalHertz === null || hertzLow === null || hertzHigh === null) return [];
  const off = Math.max(hertzHigh - nominalHertz, nominalHertz - hertzLow);
  const limit = { ...limits.frequency, value: limits.frequency.value * nominalHertz, unit: 'Hz' };
  const measured = { value: off, lo: off - 0.05, hi: off + 0.05 };
  return [
    advise(id, measured, limit, 'less', (verdict) =>
      say('frequency', { low: hertzLow, high: hertzHigh, strains: verdict !== 'adequate' }),
    ),
  ];
}

/** Accuracy of a distortion figure: class II of IEC 61000-4-7, 5 % of it. */
function distortion({ waveform: { thdVoltsPercent } }: Asked) {
  if (thdVoltsPercent === null) return [];
  return [
    advise(id, reading(thdVoltsPercent, 0.05), limits.distortion, 'less', (verdict) =>
      say('distortion', { percent: thdVoltsPercent, over: verdict !== 'adequate' }),
    ),
  ];
}

/** The crest is one sample in thousands: two per cent for noise and sampling. */
function flatTop({ waveform: { crest } }: Asked) {
  if (crest === null) return [];
  return [
    advise(id, reading(crest, 0.02), limits.crest, 'more', (verdict) =>
      say('crest', { crest, flat: verdict !== 'adequate' }),
    ),
  ];
}
