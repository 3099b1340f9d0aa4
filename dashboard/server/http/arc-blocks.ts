import { setImmediate as turn } from 'node:timers/promises';
import type { SampleIndex } from '../../../shared/units.ts';
import type { Block, Store } from '../store/store.ts';

/** Read at once: six seconds, half a megabyte a pair, some milliseconds of the disk's. */
const sliceFrames = 65_536;

/**
 * Stored blocks of a stretch in stream order, each once. Between slices the rest of the server has
 * its turn: an arc of minutes is tens of megabytes.
 */
export async function* arcBlocks(
  store: Store,
  { sensor, boot }: { sensor: string; boot: number },
  from: SampleIndex,
  to: SampleIndex,
): AsyncGenerator<Block, void, void> {
  let through = from;
  for (let at = from; at < to; at += sliceFrames) {
    for (const block of store.blocks(sensor, boot, at, Math.min(to, at + sliceFrames))) {
      if (block.first + block.n <= through) continue;
      through = block.first + block.n;
      yield block;
    }
    await turn();
  }
}
