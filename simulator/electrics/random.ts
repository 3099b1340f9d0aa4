const goldenRatio = 0x9e3779b9;

/**
 * Seeded chance. Every part of a plant draws from a stream of its own, named after the part, so
 * that leaving a part out moves nothing in the others.
 */
export class Random {
  private a: number;
  private b: number;
  private c: number;
  private count = 1;

  /** @param label names the stream; other labels under one seed give unrelated streams. */
  constructor(seed: number, label: string) {
    // FNV-1a spreads the label over 32 bits; the seed enters as two words, so that seeds above
    // 2^32 differ.
    let hash = 0x811c9dc5;
    for (let at = 0; at < label.length; at++) {
      hash = Math.imul(hash ^ label.charCodeAt(at), 0x01000193);
    }
    this.a = seed | 0;
    this.b = hash | 0;
    this.c = Math.floor(seed / 2 ** 32) ^ goldenRatio;
    // The first draws after a sparse state are poor: throw them away.
    for (let warm = 0; warm < 16; warm++) this.word();
  }

  /** A signed 32-bit word (Small Fast Counting generator, 32-bit variant, public domain). */
  word(): number {
    const sum = (((this.a + this.b) | 0) + this.count) | 0;
    this.count = (this.count + 1) | 0;
    this.a = this.b ^ (this.b >>> 9);
    this.b = (this.c + (this.c << 3)) | 0;
    this.c = (((this.c << 21) | (this.c >>> 11)) + sum) | 0;
    return sum;
  }

  /** In [0, 1). */
  unit(): number {
    return (this.word() >>> 0) / 2 ** 32;
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.unit();
  }

  /** An integer in [low, high]. */
  whole(low: number, high: number): number {
    return low + Math.floor((high - low + 1) * this.unit());
  }

  /** Mean 0, deviation 1 (Box–Muller). */
  normal(): number {
    const radius = Math.sqrt(-2 * Math.log(1 - this.unit()));
    return radius * Math.cos(2 * Math.PI * this.unit());
  }
}
