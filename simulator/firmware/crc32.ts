/** CRC-32 of IEEE 802.3 (reflected, polynomial 0xedb88320), four bits a step: a table of 64 B. */
const table = new Uint32Array(16);
for (let n = 0; n < 16; n++) {
  let rest = n;
  for (let bit = 0; bit < 4; bit++) rest = rest & 1 ? (rest >>> 1) ^ 0xedb88320 : rest >>> 1;
  table[n] = rest;
}

/** @example crc32 of the ASCII bytes "123456789" is 0xcbf43926 */
export function crc32(bytes: Uint8Array, from: number, length: number): number {
  let crc = 0xffffffff;
  for (let at = from; at < from + length; at++) {
    crc ^= bytes[at]!;
    crc = (crc >>> 4) ^ table[crc & 15]!;
    crc = (crc >>> 4) ^ table[crc & 15]!;
  }
  return ~crc >>> 0;
}
