import type { OpenRecording } from '../../shared/files/recording-file.ts';
import type { DataKind } from '../../shared/recording/comtrade-cfg.ts';
import type { ChannelFacts } from '../../shared/recording/reader.ts';

const mostCounts = { BINARY: 0x7fff, BINARY32: 0x7fff_ffff } as const;

/**
 * How the channels of a recording are to be kept in another kind of samples. Counts stay counts
 * where the new kind holds them all, so that nothing is lost; else the values are read once
 * beforehand and the largest one fills the range.
 */
export function fitChannels(
  channels: readonly ChannelFacts[],
  kind: DataKind,
  open: () => OpenRecording,
): ChannelFacts[] {
  const real = (channel: ChannelFacts): ChannelFacts => ({
    ...channel,
    scale: null,
    bits: 0,
    offset: 0,
  });
  if (kind === 'ASCII') return [...channels];
  // A 32-bit float holds 24 bits of a count.
  if (kind === 'FLOAT32')
    return channels.map((each) => (each.bits > 0 && each.bits <= 24 ? each : real(each)));
  const bits = kind === 'BINARY' ? 16 : 32;
  if (channels.every((each) => each.scale !== null && each.bits <= bits)) return [...channels];
  const most = mostCounts[kind];
  const ranges = rangesOf(channels.length, open);
  return channels.map((channel, index) => {
    const [low, high] = ranges[index]!;
    const { scale, offset } = channel;
    const counts = (value: number) => Math.abs(Math.round((value - offset) / (scale ?? 1)));
    if (scale !== null && counts(low) <= most && counts(high) <= most) return { ...channel, bits };
    const size = Math.max(Math.abs(low), Math.abs(high)) || 1;
    return { ...channel, scale: size / most, offset: 0, bits };
  });
}

/** Least and largest value of each channel. */
function rangesOf(channels: number, open: () => OpenRecording): [number, number][] {
  const ranges = Array.from({ length: channels }, (): [number, number] => [0, 0]);
  const { reader, close } = open();
  try {
    for (let block = reader.next(); block; block = reader.next())
      for (const [index, range] of ranges.entries()) {
        const column = block.channels[index]!;
        for (let row = 0; row < block.frames; row++) {
          const value = column[row]!;
          if (value < range[0]) range[0] = value;
          if (value > range[1]) range[1] = value;
        }
      }
  } finally {
    close();
  }
  return ranges;
}
