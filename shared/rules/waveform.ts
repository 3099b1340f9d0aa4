import type { Rule, Setting, WaveformEvidence } from './facts.ts';
import { advise, notAsked, reading, state } from './finding.ts';
import { limits } from './limits.ts';

const id = 'waveform';
type Asked = Setting & { waveform: WaveformEvidence };

/** A generator wanders in frequency, an overloaded transformer flattens the wave: advice. */
export const waveform: Rule<Asked> = {
  id,
  asks: 'frequency and distortion of the voltage: generator or overloaded transformer',
  required: 'never',
  limits: [limits.frequency, limits.distortion, limits.crest],
  ask(asked) {
    const findings = [
      ...rating(asked),
      ...frequency(asked),
      ...distortion(asked),
      ...flatTop(asked),
    ];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.distortion, 'The record is too short to tell its waveform.')];
  },
};

/** Half the gap between 50 and 60 Hz tells which of them a supply is. */
function rating({ plate, waveform: { hertzLow, hertzHigh } }: Asked) {
  if (!plate?.hertz || hertzLow === null || hertzHigh === null) return [];
  const supply = (hertzLow + hertzHigh) / 2 < 55 ? 50 : 60;
  if (plate.hertz.includes(supply)) return [];
  return [
    state(id, 'marginal', {
      says: `The supply has ${supply} Hz; the plate names ${plate.hertz.join(' and ')} Hz only.`,
    }),
  ];
}

function frequency({ nominalHertz, waveform: { hertzLow, hertzHigh } }: Asked) {
  if (nominalHertz === null || hertzLow === null || hertzHigh === null) return [];
  const off = Math.max(hertzHigh - nominalHertz, nominalHertz - hertzLow);
  const limit = { ...limits.frequency, value: limits.frequency.value * nominalHertz, unit: 'Hz' };
  const measured = { value: off, lo: off - 0.05, hi: off + 0.05 };
  return [
    advise(id, measured, limit, 'less', (verdict) => ({
      says:
        `The frequency lay between ${hertzLow.toFixed(2)} and ${hertzHigh.toFixed(2)} Hz` +
        (verdict === 'adequate' ? '.' : ': this looks like a generator that strains.'),
    })),
  ];
}

/** Accuracy of a distortion figure: class II of IEC 61000-4-7, 5 % of it. */
function distortion({ waveform: { thdVoltsPercent } }: Asked) {
  if (thdVoltsPercent === null) return [];
  return [
    advise(id, reading(thdVoltsPercent, 0.05), limits.distortion, 'less', (verdict) => ({
      says:
        `The voltage's distortion is ${thdVoltsPercent.toFixed(1)} %` +
        (verdict === 'adequate' ? '.' : ': a generator or a transformer that is overloaded.'),
    })),
  ];
}

/** The crest is one sample in thousands: two per cent for noise and sampling. */
function flatTop({ waveform: { crest } }: Asked) {
  if (crest === null) return [];
  return [
    advise(id, reading(crest, 0.02), limits.crest, 'more', (verdict) => ({
      says:
        `The voltage's crest is ${crest.toFixed(2)} times its r.m.s. value` +
        (verdict === 'adequate' ? '.' : ', a sine has 1.41: its top is flat, the supply is soft.'),
    })),
  ];
}
