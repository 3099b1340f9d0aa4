/**
 * A maker of `count` columns of `size` zeros that lie in one buffer. A typed array of its own has
 * an `ArrayBuffer` of its own, which for a handful of numbers is larger than they are.
 */
export function columns(count: number, size: number): () => Float64Array {
  const all = new Float64Array(count * size);
  let at = 0;
  return () => all.subarray(at, (at += size));
}

/** The same of single precision, for what is read to a part in a million at most. */
export function singles(count: number, size: number): () => Float32Array {
  const all = new Float32Array(count * size);
  let at = 0;
  return () => all.subarray(at, (at += size));
}
