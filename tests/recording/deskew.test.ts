import { describe, expect, test } from 'vitest';
import { Deskew } from '../../shared/recording/deskew.ts';
import type { RecordingBlock } from '../../shared/recording/reader.ts';
import { openBytes, readAll } from './helpers.ts';

const rateHz = 10_240;
const wave = (row: number, lag: number) =>
  170 * Math.sin((2 * Math.PI * 60 * (row + lag)) / rateHz) +
  9 * Math.sin((2 * Math.PI * 420 * (row + lag)) / rateHz);

/** Two channels in blocks of the given lengths; a negative length is a gap before the next. */
function rowsOf(lengths: readonly number[], lag: number) {
  let row = 0;
  let gapFrames = 0;
  const left = [...lengths];
  return {
    next(): RecordingBlock | null {
      while ((left[0] ?? 0) < 0) {
        gapFrames = -left.shift()!;
        row += gapFrames;
      }
      const frames = left.shift();
      if (frames === undefined) return null;
      const at = (of: number) => Float64Array.from({ length: frames }, (_, k) => wave(row + k, of));
      const block = { channels: [at(0), at(lag)], frames, gapFrames };
      row += frames;
      gapFrames = 0;
      return block;
    },
  };
}

function collect(lengths: readonly number[], lag: number) {
  const deskew = new Deskew(rowsOf(lengths, lag), [0, lag], 200);
  const given: { row: number; plain: number; moved: number }[] = [];
  const gaps: [number, number][] = [];
  let row = 0;
  for (let block = deskew.next(); block; block = deskew.next()) {
    if (block.gapFrames > 0) gaps.push([row, block.gapFrames]);
    row += block.gapFrames;
    for (let k = 0; k < block.frames; k++, row++)
      given.push({ row, plain: block.channels[0]![k]!, moved: block.channels[1]![k]! });
  }
  return { given, gaps };
}

describe('skewed channels are moved onto their row', () => {
  test.each([0.5, 0.25, 0.9, -0.5, -0.01])('by %f of a sample, whatever the blocks', (lag) => {
    for (const lengths of [
      [200, 200, 200],
      [1, 1, 1, 1, 1, 150, 2, 3],
      [600 / 4, 3, 1],
    ]) {
      const { given } = collect(lengths, lag);
      expect(given.map(({ row }) => row)).toEqual(given.map((_, index) => index));
      expect(given).toHaveLength(lengths.reduce((sum, each) => sum + each, 0));
      for (const { row, plain, moved } of given) {
        expect(plain).toBe(wave(row, 0));
        const inside = row >= 2 && row < given.length - 2;
        if (inside) expect(Math.abs(moved - wave(row, 0))).toBeLessThan(0.01);
      }
    }
  });

  test('never across a gap', () => {
    const { given, gaps } = collect([50, -7, 60, 1, -3, 2], 0.5);
    expect(gaps).toEqual([
      [50, 7],
      [118, 3],
    ]);
    expect(given).toHaveLength(113);
    for (const { row, moved } of given) {
      const edge = [0, 1, 48, 49, 57, 58, 116, 117, 121, 122].includes(row);
      if (!edge) expect(Math.abs(moved - wave(row, 0))).toBeLessThan(0.01);
    }
  });

  test('as the .cfg tells it, in microseconds', () => {
    const cfg = (skew: number) =>
      `s,d,1999\n2,2A,0D\n1,v,,,V,0.01,0,0,-99999,99999,1,1,P\n` +
      `2,i,,,A,0.01,0,${skew},-99999,99999,1,1,P\n60\n1\n${rateHz},20000\n,\n,\nASCII\n1\n`;
    const dat = Array.from({ length: 20_000 }, (_, k) =>
      [k + 1, '', Math.round(wave(k, 0) * 100), Math.round(wave(k, 0.5) * 100)].join(','),
    ).join('\n');
    const skewed = readAll(openBytes('a.cfg', cfg(0), { dat })).columns;
    const straight = readAll(openBytes('a.cfg', cfg(0.5e6 / rateHz), { dat })).columns;
    const farthest = ([volts, amps]: number[][]) =>
      volts!.slice(2, -2).reduce((most, v, k) => Math.max(most, Math.abs(v - amps![k + 2]!)), 0);
    expect(farthest(skewed)).toBeGreaterThan(3);
    expect(farthest(straight)).toBeLessThan(0.03);
    expect(straight[0]).toHaveLength(20_000);
  });
});
