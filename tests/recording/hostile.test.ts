import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { openRecording } from '../../shared/recording/open.ts';
import { RecordingError } from '../../shared/recording/reader.ts';
import type { ByteSource } from '../../shared/recording/source.ts';
import { ArraySource } from '../../shared/recording/source.ts';
import { encodeText } from '../../shared/recording/text.ts';

const csv = encodeText(
  ['# note', 't_s,v1_V,i1_A', ...Array.from({ length: 40 }, (_, k) => `${k / 1000},${k},-${k}`)]
    .join('\n')
    .concat('\n'),
);
const cfg = (kind: string) =>
  encodeText(
    `s,d,1999\n3,2A,1D\n1,v,,,V,1,0,0,-9,9,1,1,P\n2,i,,,A,1,0,0,-9,9,1,1,P\n1,s,,,0\n` +
      `60\n1\n1000,20\n01/01/2026,00:00:00.000000\n01/01/2026,00:00:00.000000\n${kind}\n1\n`,
  );
const ascii = encodeText(
  Array.from({ length: 20 }, (_, k) => `${k + 1},${k * 1000},${k},-${k},0`).join('\n'),
);
const binary = Uint8Array.from({ length: 20 * 14 }, (_, k) => (k % 14 === 0 ? k / 14 + 1 : 0));
const cff = Uint8Array.of(
  ...encodeText('--- file type: CFG ---\n'),
  ...cfg('BINARY'),
  ...encodeText('--- file type: DAT BINARY: 280 ---\n'),
  ...binary,
);

/** A good file with some bytes changed, taken out, doubled, or its end cut off. */
const damaged = (good: Uint8Array) =>
  fc
    .tuple(
      fc.array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { maxLength: 6 }),
      fc.nat(good.length - 1),
      fc.nat(good.length - 1),
      fc.constantFrom('keep', 'cut', 'drop', 'double'),
    )
    .map(([changes, one, two, act]) => {
      const bytes = good.slice();
      for (const [at, byte] of changes) bytes[at] = byte;
      const [from, to] = one < two ? [one, two] : [two, one];
      if (act === 'cut') return bytes.slice(0, from);
      if (act === 'drop') return Uint8Array.of(...bytes.slice(0, from), ...bytes.slice(to));
      if (act === 'double') return Uint8Array.of(...bytes.slice(0, to), ...bytes.slice(from));
      return bytes;
    });

/** Reads all; only a RecordingError may come, of one line, and every value must be a number. */
function survive(name: string, main: ByteSource, beside: ByteSource | null): number {
  let rows = 0;
  try {
    const reader = openRecording({ name, main, sibling: () => beside });
    for (let block = reader.next(); block; block = reader.next()) {
      rows += block.frames;
      if (block.frames === 0) throw new Error('an empty block');
      if (!(Number.isInteger(block.gapFrames) && block.gapFrames >= 0)) throw new Error('no gap');
      for (const column of block.channels)
        if (!column.subarray(0, block.frames).every(Number.isFinite)) throw new Error('no number');
      expect(reader.progress).toBeGreaterThanOrEqual(0);
      expect(reader.progress).toBeLessThanOrEqual(1);
    }
  } catch (error) {
    if (!(error instanceof RecordingError)) throw error;
    expect(error.message).toMatch(/^[^\n\r]{1,400}$/u);
  }
  return rows;
}

const runs = { numRuns: 1500 };
const array = (bytes: Uint8Array) => new ArraySource(bytes);

describe('hostile bytes meet one clear error or are read', () => {
  test('anything at all under any name', () => {
    const name = fc.constantFrom('a.csv', 'a.cfg', 'a.dat', 'a.cff', 'a.bin', '', '.', 'a.csv.');
    const bytes = fc.uint8Array({ maxLength: 400 });
    fc.assert(
      fc.property(name, bytes, bytes, (as, main, beside) => {
        survive(as, array(main), array(beside));
      }),
      runs,
    );
  });

  test('a damaged CSV', () => {
    fc.assert(
      fc.property(damaged(csv), (bytes) => {
        survive('a.csv', array(bytes), null);
      }),
      runs,
    );
  });

  test('a damaged .cfg', () => {
    const files = fc.constantFrom<[string, Uint8Array]>(
      ['ASCII', ascii],
      ['BINARY', binary],
      ['FLOAT32', binary],
    );
    fc.assert(
      fc.property(
        files.chain(([kind, samples]) => fc.tuple(damaged(cfg(kind)), fc.constant(samples))),
        ([config, samples]) => {
          survive('a.cfg', array(config), array(samples));
        },
      ),
      runs,
    );
  });

  test('a damaged .dat', () => {
    fc.assert(
      fc.property(damaged(ascii), damaged(binary), (text, bytes) => {
        survive('a.cfg', array(cfg('ASCII')), array(text));
        survive('a.cfg', array(cfg('BINARY')), array(bytes));
      }),
      runs,
    );
  });

  test('a damaged .cff', () => {
    fc.assert(
      fc.property(damaged(cff), (bytes) => {
        survive('a.cff', array(bytes), null);
      }),
      runs,
    );
  });
});

describe('memory does not follow the length', () => {
  /** A text of so many rows that are made as they are read. */
  class EndlessRows implements ByteSource {
    readonly size: number;
    largestRead = 0;
    readonly #head: Uint8Array;
    readonly #row: (index: number) => string;
    readonly #rowBytes: number;

    constructor(head: string, rows: number, row: (index: number) => string) {
      this.#head = encodeText(head);
      this.#row = row;
      this.#rowBytes = row(0).length;
      this.size = this.#head.length + rows * this.#rowBytes;
    }

    read(into: Uint8Array, position: number): number {
      this.largestRead = Math.max(this.largestRead, into.length);
      const there = Math.min(into.length, this.size - position);
      let index = -1;
      let row = '';
      for (let i = 0; i < there; i++) {
        const at = position + i - this.#head.length;
        if (at < 0) into[i] = this.#head[position + i]!;
        else {
          const wanted = Math.floor(at / this.#rowBytes);
          if (wanted !== index) row = this.#row((index = wanted));
          into[i] = row.charCodeAt(at % this.#rowBytes);
        }
      }
      return Math.max(0, there);
    }
  }

  test('reads stay within 256 KiB over a million rows of CSV', () => {
    const source = new EndlessRows(
      't_s,v1_V,i1_A\n',
      1_000_000,
      (k) => `${(k / 10_240).toFixed(9).padStart(14, '0')},1.25,-2.5\n`,
    );
    expect(survive('long.csv', source, null)).toBe(1_000_000);
    expect(source.largestRead).toBeLessThanOrEqual(262_144);
  });

  test('a .cfg, a line, or a .cff head without end is refused after its limit', () => {
    const endless = (size: number): ByteSource => ({
      size,
      read: (into) => {
        if (into.length > 4 * 2 ** 20) throw new Error('reads too much at once');
        into.fill(0x31);
        return into.length;
      },
    });
    expect(survive('a.csv', endless(1e12), null)).toBe(0);
    expect(survive('a.cfg', endless(1e12), endless(1e12))).toBe(0);
    expect(survive('a.cff', endless(1e12), null)).toBe(0);
    expect(survive('a.cfg', array(cfg('ASCII')), endless(1e12))).toBe(0);
  });
});
