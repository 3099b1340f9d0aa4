import { mkdtempSync, rmSync, statSync, truncateSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Flash } from '../../simulator/hal.ts';
import { FileFlash } from '../../simulator/ports/file-flash.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-flash-'));
afterAll(() => rmSync(folder, { recursive: true }));

const kinds: [string, () => Flash][] = [
  ['memory', () => new MemoryFlash(4)],
  ['file', () => new FileFlash(join(folder, 'contract.flash'), 4)],
];

/** What every flash keeps. */
describe.each(kinds)('flash in a %s', (_, make) => {
  const flash = make();
  const read = (address: number, length: number) => {
    const into = new Uint8Array(length);
    expect(flash.read(address, into, length)).toBe(true);
    return [...into];
  };

  test('is blank at first', () => {
    expect(new Set(read(0, 4 * flash.sectorBytes))).toEqual(new Set([0xff]));
  });

  test('keeps what is programmed, and nothing beside it', () => {
    const bytes = Uint8Array.of(9, 1, 2, 3, 9);
    expect(flash.program(flash.sectorBytes + 10, bytes, 1, 3)).toBe(true);
    expect(read(flash.sectorBytes + 9, 5)).toEqual([0xff, 1, 2, 3, 0xff]);
  });

  test('an erase clears its sector and no other', () => {
    flash.program(0, Uint8Array.of(7), 0, 1);
    expect(flash.erase(1)).toBe(true);
    expect(read(flash.sectorBytes + 9, 5)).toEqual([0xff, 0xff, 0xff, 0xff, 0xff]);
    expect(read(0, 1)).toEqual([7]);
  });
});

describe('the flash file', () => {
  test('is there again when opened again, and takes next to no disk while blank', () => {
    const path = join(folder, 'again.flash');
    const first = new FileFlash(path, 512);
    first.program(512, Uint8Array.of(5, 6), 0, 2);
    first.close();
    const into = new Uint8Array(3);
    const second = new FileFlash(path, 512);
    second.read(512, into, 3);
    second.close();
    expect([...into]).toEqual([5, 6, 0xff]);
    expect(statSync(path).blocks * 512).toBeLessThan(100_000);
  });

  test('of another size, or in no folder, is refused in one line', () => {
    const path = join(folder, 'short.flash');
    new FileFlash(path, 4).close();
    truncateSync(path, 1_000);
    expect(() => new FileFlash(path, 4)).toThrow(/a flash of 262144 bytes is needed/);
    expect(() => new FileFlash(join(folder, 'no', 'such.flash'), 4)).toThrow(/such\.flash/);
  });

  test('that can no longer be written says so by its answers', () => {
    const flash = new FileFlash(join(folder, 'closed.flash'), 4);
    flash.close();
    expect(flash.program(0, Uint8Array.of(1), 0, 1)).toBe(false);
    expect(flash.erase(0)).toBe(false);
    expect(flash.read(0, new Uint8Array(1), 1)).toBe(false);
  });
});
