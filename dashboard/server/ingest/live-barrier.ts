import type { LiveEvents } from './sensor-stream.ts';

/**
 * The live side behind a barrier: what fails in telling pages of the moment, or in a check that
 * listens, is counted and stays there. What is measured and stored does not hang on it.
 */
export function behindBarrier(live: LiveEvents, failed: (sensor: string, error: unknown) => void) {
  const tried = <Value>(sensor: string, tell: () => Value, none: Value): Value => {
    try {
      return tell();
    } catch (error) {
      failed(sensor, error);
      return none;
    }
  };
  return {
    arcBegan: (id, startedUs) => tried(id, () => live.arcBegan(id, startedUs), undefined),
    arcGoesOn: (id, startedUs, arc) =>
      tried(id, () => live.arcGoesOn(id, startedUs, arc), undefined),
    arcEnded: (id, arc) => tried(id, () => live.arcEnded(id, arc), undefined),
    supplied: (id, supply) => tried(id, () => live.supplied(id, supply), undefined),
    arcDropped: (id) => tried(id, () => live.arcDropped(id), undefined),
    sag: (id, atUs, sag) => tried(id, () => live.sag(id, atUs, sag), undefined),
    weldingAt: (id, startedUs) => tried(id, () => live.weldingAt(id, startedUs), null),
  } satisfies LiveEvents;
}
