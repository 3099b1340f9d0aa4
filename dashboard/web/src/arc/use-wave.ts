import { type Signal, useSignalEffect } from '@preact/signals';
import { useRef, useState } from 'preact/hooks';
import type { Waveform } from '../../../../shared/protocol/live-rows.ts';
import type { WaveEnvelope } from '../../../../shared/protocol/wave-envelope.ts';
import { arcWave } from '../parts/api.ts';
import type { Extent } from '../parts/extent.ts';

/** A waveform as far as it was fetched. */
export interface SeenWave {
  from: number;
  to: number;
  wave: Waveform | WaveEnvelope;
}

/** Points of one fetch: half of them are seen, the rest lies ready beside. */
const points = 3_000;
/** After the last move of a finger or a key. */
const restMs = 120;
/** What was seen from afar is fetched anew when this much closer. */
const closer = 4;

export const isAfar = (wave: Waveform | WaveEnvelope): wave is WaveEnvelope => 'binS' in wave;

/** The waveform of what is looked at: from afar its extremes, nearer each sample. */
export function useWave(
  id: number,
  there: boolean,
  whole: Extent,
  extent: Signal<Extent | null>,
): SeenWave | Error | null {
  const [seen, setSeen] = useState<SeenWave | Error | null>(null);
  const newest = useRef<SeenWave | null>(null);
  useSignalEffect(() => {
    const looked = extent.value ?? whole;
    // Beside a longer arc this one may end before what is looked at.
    const [from, to] = [Math.max(looked[0], whole[0]), Math.min(looked[1], whole[1])];
    if (!there || from >= to || isThere(newest.current, from, to)) return;
    let mine = true;
    const fetchIt = async () => {
      const beside = (to - from) / 2;
      const begin = Math.max(whole[0], from - beside);
      const end = Math.min(whole[1], to + beside);
      try {
        const wave = await arcWave(id, begin, end, points);
        if (!mine) return;
        newest.current = { from: begin, to: end, wave };
        setSeen(newest.current);
      } catch (error) {
        if (mine) setSeen(error as Error);
      }
    };
    const timer = setTimeout(fetchIt, newest.current ? restMs : 0);
    return () => {
      mine = false;
      clearTimeout(timer);
    };
  });
  return seen;
}

function isThere(seen: SeenWave | null, from: number, to: number): boolean {
  if (!seen || seen.from > from || seen.to < to) return false;
  return !isAfar(seen.wave) || (to - from) * closer > seen.to - seen.from;
}
