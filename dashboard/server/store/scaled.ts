import type { About } from '../../../shared/protocol/messages.ts';
import type { Block } from './store.ts';

/** A block's counts as volts and amperes, in columns (one a channel) that are filled anew. */
export function scaled(
  { data, n }: Block,
  { scale }: About,
  columns: readonly Float64Array[],
): void {
  const stride = columns.length;
  for (let channel = 0; channel < stride; channel++) {
    const column = columns[channel]!;
    const factor = scale[channel]!;
    for (let frame = 0, at = channel; frame < n; frame++, at += stride)
      column[frame] = data[at]! * factor;
  }
}
