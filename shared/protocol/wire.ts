import { decode, encode } from 'cborg';
import {
  float32ArrayDecoder,
  float32ArrayEncoder,
  float64ArrayDecoder,
  float64ArrayEncoder,
  int16ArrayDecoder,
  int16ArrayEncoder,
  int32ArrayDecoder,
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
const decodeOptions = {
  allowIndefinite: false,
  allowUndefined: false,
  rejectDuplicateMapKeys: true,
  tags: {
    [TAG_INT16_ARRAY_LE]: int16ArrayDecoder,
    [TAG_INT32_ARRAY_LE]: int32ArrayDecoder,
    [TAG_FLOAT32_ARRAY_LE]: float32ArrayDecoder,
    [TAG_FLOAT64_ARRAY_LE]: float64ArrayDecoder,
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
