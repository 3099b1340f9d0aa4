/**
 * A maker of `count` columns of `size` zeros that lie in one buffer. A typed array of its own has
 * an `ArrayBuffer` of its own, which for a handful of numbers is larger than they are.
 */
export function columns(count: number, size: number): () => Float64Array {
  const all = new Float64Array(count * size);
  let at = 0;
  return () => all.subarray(at, (at += size));
}
