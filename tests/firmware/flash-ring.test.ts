import { describe, expect, test } from 'vitest';
import { FlashRing, recordHead } from '../../simulator/firmware/flash-ring.ts';
import { FaultyFlash, PowerCut } from '../../simulator/ports/faulty-flash.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';

const sectorBytes = 1_024;
const clock = new VirtualClock();

/** A record of a length and content that its number tells. */
function record(n: number): Uint8Array {
  const payload = new Uint8Array(20 + ((n * 37) % 200)).fill(n & 0xff);
  new DataView(payload.buffer).setUint32(0, n);
  return payload;
}

function append(ring: FlashRing, n: number): boolean {
  const payload = record(n);
  const bytes = new Uint8Array(recordHead + payload.length);
  bytes.set(payload, recordHead);
  return ring.append(7, bytes, payload.length);
}

function readAll(ring: FlashRing): Map<number, number> {
  const into = new Uint8Array(512);
  const found = new Map<number, number>();
  ring.seek(ring.oldest);
  for (let length = ring.next(into); length !== 0; length = ring.next(into)) {
    if (length < 0) continue;
    const n = new DataView(into.buffer).getUint32(0);
    expect(into.slice(0, length)).toEqual(record(n));
    found.set(ring.cursor - 1, n);
  }
  return found;
}

function open(flash: ConstructorParameters<typeof FlashRing>[0], first = 0): FlashRing {
  const ring = new FlashRing(flash, first, flash.sectors - first);
  ring.open(1_000);
  return ring;
}

describe('the ring on flash', () => {
  test('gives back what was written, in order, after a boot too', () => {
    const flash = new MemoryFlash(6, sectorBytes);
    const ring = open(flash);
    for (let n = 0; n < 12; n++) expect(append(ring, n)).toBe(true);
    expect([...readAll(ring)]).toEqual(Array.from({ length: 12 }, (_, n) => [1_000 + n, n]));
    const again = open(flash);
    expect(again.newest).toBe(1_011);
    expect(readAll(again)).toEqual(readAll(ring));
    append(again, 12);
    expect(readAll(again).get(1_012)).toBe(12);
  });

  test('overwrites the oldest, counts what nobody had, and what was kept it does not', () => {
    const ring = open(new MemoryFlash(4, sectorBytes));
    for (let n = 0; n < 100; n++) append(ring, n);
    expect(ring.oldest).toBeGreaterThan(1_050);
    expect(ring.dropped).toBe(ring.oldest - 1_000);
    const calm = open(new MemoryFlash(4, sectorBytes));
    for (let n = 0; n < 100; n++) {
      append(calm, n);
      calm.kept = calm.newest;
    }
    expect(calm.dropped).toBe(0);
  });

  test('wears its sectors evenly', () => {
    const flash = new MemoryFlash(7, sectorBytes);
    const ring = open(flash);
    for (let n = 0; n < 2_000; n++) append(ring, n);
    expect(Math.max(...flash.wear) - Math.min(...flash.wear)).toBeLessThanOrEqual(1);
  });

  test('remembers over a boot how far the server keeps, to a sector', () => {
    const flash = new MemoryFlash(6, sectorBytes);
    const ring = open(flash);
    for (let n = 0; n < 40; n++) {
      append(ring, n);
      ring.kept = ring.newest;
    }
    const again = open(flash);
    expect(again.kept).toBeGreaterThan(again.newest - 12);
    expect(again.kept).toBeLessThanOrEqual(again.newest);
  });

  test('power cut at any write: what was written before is whole, no number is given twice', () => {
    const written = 60;
    const probe = new FaultyFlash(new MemoryFlash(5, sectorBytes), clock, []);
    const whole = open(probe);
    for (let n = 0; n < written; n++) append(whole, n);
    for (let write = 0; write < probe.writes; write++) {
      const flash = new MemoryFlash(5, sectorBytes);
      const cut = new FaultyFlash(flash, clock, [{ kind: 'flash-power-cut', write }]);
      const ring = open(cut);
      let n = 0;
      expect(() => {
        for (; n < written; n++) append(ring, n);
      }).toThrow(PowerCut);
      const after = open(flash);
      const found = readAll(after);
      // All that is in the ring's reach and was acknowledged to the caller is there.
      for (let seq = Math.max(after.oldest, 1_000); seq < 1_000 + n; seq++)
        expect(found.get(seq), `write ${write}`).toBe(seq - 1_000);
      expect(after.newest).toBeGreaterThanOrEqual(999 + n);
      const next = after.newest + 1;
      expect(append(after, 77)).toBe(true);
      expect(readAll(after).get(next)).toBe(77);
    }
    expect(probe.writes).toBeGreaterThan(100);
  });

  test('a sector that fails is passed over; a flash that fails is told', () => {
    const always = { kind: 'flash-error', from: 0, to: 1 } as const;
    const broken = open(new FaultyFlash(new MemoryFlash(5, sectorBytes), clock, [always]));
    expect(append(broken, 0)).toBe(false);
    expect(broken.dropped).toBe(1);
    expect(broken.errors).toBeGreaterThan(0);

    const flash = new MemoryFlash(5, sectorBytes);
    let bad = 0;
    const erase = flash.erase.bind(flash);
    flash.erase = (sector) => {
      if (sector !== 2) return erase(sector);
      bad++;
      return false;
    };
    const ring = open(flash);
    for (let n = 0; n < 60; n++) expect(append(ring, n)).toBe(true);
    expect(bad).toBeGreaterThan(1);
    expect([...readAll(ring).keys()].at(-1)).toBe(1_059);
  });

  test('a spoiled record is stepped over and counted', () => {
    const flash = new MemoryFlash(5, sectorBytes);
    const ring = open(flash);
    for (let n = 0; n < 8; n++) append(ring, n);
    flash.bytes[40 + 24 + 5] = 0x55; // a bit rots in the first payload
    const found = readAll(ring);
    expect([...found.keys()]).toEqual([1_001, 1_002, 1_003, 1_004, 1_005, 1_006, 1_007]);
    expect(ring.errors).toBe(1);
  });
});
