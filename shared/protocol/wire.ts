import { decode, encode } from 'cborg';
import {
  float32ArrayEncoder,
  float64ArrayEncoder,
  int16ArrayEncoder,
  int32ArrayEncoder,
  TAG_FLOAT32_ARRAY_LE,
  TAG_FLOAT64_ARRAY_LE,
  TAG_INT16_ARRAY_LE,
  TAG_INT32_ARRAY_LE,
} from 'cborg/taglib';

/**
 * CBOR (RFC 8949) with the four little-endian typed arrays of RFC 8746 that the wire carries, and
 * nothing else: an unknown tag, an indefinite length, a key told twice are refused. The decoders
 * copy: a payload starts at any byte offset of its packet, where a wider view would throw, and the
 * packet's memory is the link's to use again. Hosts are little-endian, as every one Node runs on.
 */
/** The library's own decoder copies once more what `decode` has copied already. */
function arrayOf<Column>(Column: new (memory: ArrayBuffer) => Column) {
  return (decodeContent: () => unknown): Column => {
    const bytes = decodeContent();
    if (!(bytes instanceof Uint8Array)) throw new Error('a typed array is a byte string');
    const { buffer, byteOffset, byteLength } = bytes;
    const own = byteLength === buffer.byteLength;
    const memory = own ? buffer : buffer.slice(byteOffset, byteOffset + byteLength);
    return new Column(memory as ArrayBuffer);
  };
}

const decodeOptions = {
  allowIndefinite: false,
  allowUndefined: false,
  // Beyond 2⁵³ a number is no number of ours, and a bigint is nothing that JSON could take.
  allowBigInt: false,
  rejectDuplicateMapKeys: true,
  tags: {
    [TAG_INT16_ARRAY_LE]: arrayOf(Int16Array),
    [TAG_INT32_ARRAY_LE]: arrayOf(Int32Array),
    [TAG_FLOAT32_ARRAY_LE]: arrayOf(Float32Array),
    [TAG_FLOAT64_ARRAY_LE]: arrayOf(Float64Array),
  },
};

const encodeOptions = {
  typeEncoders: {
    Int16Array: int16ArrayEncoder,
    Int32Array: int32ArrayEncoder,
    Float32Array: float32ArrayEncoder,
    Float64Array: float64ArrayEncoder,
  },
};

export const toWire = (value: unknown): Uint8Array => encode(value, encodeOptions);

/** @throws Error when the bytes are no CBOR of the kind above. */
export const fromWire = (bytes: Uint8Array): unknown => decode(bytes, decodeOptions);

/** The same of bytes that may hold what we refuse: to find out what of them can still be told. */
export const fromLooseWire = (bytes: Uint8Array): unknown =>
  decode(bytes, { ...decodeOptions, allowUndefined: true, allowBigInt: true });
