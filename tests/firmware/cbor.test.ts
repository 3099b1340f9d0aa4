import { encode } from 'cborg';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fromWire } from '../../shared/protocol/wire.ts';
import { CborReader } from '../../simulator/firmware/cbor-reader.ts';
import { CborWriter } from '../../simulator/firmware/cbor-writer.ts';
import { crc32 } from '../../simulator/firmware/crc32.ts';

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

function written(write: (writer: CborWriter) => void): Uint8Array {
  const writer = new CborWriter(4_096, 16);
  write(writer);
  return writer.bytes.slice(16, 16 + writer.length);
}

describe('the CBOR writer', () => {
  // RFC 8949, appendix A.
  test.each([
    [0, '00'],
    [23, '17'],
    [24, '1818'],
    [100, '1864'],
    [1_000, '1903e8'],
    [1_000_000, '1a000f4240'],
    [1_000_000_000_000, '1b000000e8d4a51000'],
    [-1, '20'],
    [-100, '3863'],
    [-1_000, '3903e7'],
  ])('writes %i as the RFC does', (value, wanted) => {
    expect(hex(written((writer) => writer.int(value)))).toBe(wanted);
  });

  test('writes 1.1, true and "IETF" as the RFC does', () => {
    expect(hex(written((writer) => writer.float64(1.1)))).toBe('fb3ff199999999999a');
    expect(hex(written((writer) => writer.bool(true)))).toBe('f5');
    expect(hex(written((writer) => writer.text('IETF')))).toBe('6449455446');
  });

  test('an independent decoder reads whole numbers and typed arrays back', () => {
    const shorts = fc.array(fc.integer({ min: -32_768, max: 32_767 }), { maxLength: 400 });
    fc.assert(
      fc.property(fc.maxSafeInteger(), shorts, (number, counts) => {
        const narrow = Int16Array.from(counts);
        const wide = Int32Array.from(counts, (count) => count * 60_000);
        const bytes = written((writer) => {
          writer.map(3);
          writer.entry('a', number);
          writer.text('b');
          writer.typed({ tag: 77, bytes: 2 }, narrow.length);
          writer.sint16(narrow, 0, narrow.length);
          writer.text('c');
          writer.typed({ tag: 78, bytes: 4 }, wide.length);
          writer.sint32(wide, 0, wide.length);
        });
        expect(fromWire(bytes)).toEqual({ a: number, b: narrow, c: wide });
      }),
    );
    const floats = Float32Array.of(1.5, -2, 1e9);
    const doubles = Float64Array.of(Math.PI, -1e-300);
    const bytes = written((writer) => {
      writer.array(2);
      writer.float32s(floats, 3);
      writer.float64s(doubles, 2);
    });
    expect(fromWire(bytes)).toEqual([floats, doubles]);
  });

  test('a message that outgrows its buffer is a defect', () => {
    const writer = new CborWriter(8);
    expect(() => writer.text('longer than eight')).toThrow('outgrew');
  });
});

describe('the CBOR reader', () => {
  const reader = new CborReader();

  function readSeq(bytes: Uint8Array): number {
    reader.begin(bytes, bytes.length);
    let seq = Number.NaN;
    for (let left = reader.map(); left > 0; left--) {
      reader.text();
      if (reader.is('seq')) seq = reader.number();
      else reader.skip();
    }
    return reader.failed ? Number.NaN : seq;
  }

  test('finds a number among whatever else the map holds', () => {
    fc.assert(
      fc.property(
        fc.maxSafeNat(),
        fc.dictionary(fc.string({ maxLength: 8 }), fc.jsonValue({ maxDepth: 3 }), { maxKeys: 6 }),
        (seq, others) => {
          delete others.seq;
          expect(readSeq(encode({ ...others, seq }))).toBe(seq);
        },
      ),
    );
  });

  test.each([1.5, -1e300, 0.1, 5e-324, 65_504])('reads the float %d', (value) => {
    expect(readSeq(encode({ seq: value }))).toBe(value);
  });

  test('a message that is cut, or no map, reads as no number', () => {
    const whole = encode({ v: 1, id: 'x', seq: 123_456 });
    for (let length = 0; length < whole.length; length++)
      expect(readSeq(whole.slice(0, length))).toBeNaN();
    expect(readSeq(encode([1, 2]))).toBeNaN();
  });

  test('junk neither throws nor hangs', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), (bytes) => {
        readSeq(bytes);
      }),
      { numRuns: 2_000 },
    );
  });
});

test('crc32 of "123456789" is the check value of the standard', () => {
  expect(crc32(new TextEncoder().encode('123456789'), 0, 9)).toBe(0xcbf43926);
});
