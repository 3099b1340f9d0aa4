import { expect, test } from 'vitest';
import { Firmware } from '../../simulator/firmware/firmware.ts';
import { flashSectors, sectorBytes } from '../../simulator/firmware/limits.ts';
import { memoryTable, memoryText } from '../../simulator/firmware/memory-table.ts';
import type { AdcAbout, Flash } from '../../simulator/hal.ts';
import { MemoryLink } from '../../simulator/ports/memory-link.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';
import { Rig } from './rig.ts';

type Maker = new (length: number) => { byteLength: number };
const names = ['Uint8Array', 'Int16Array', 'Int32Array', 'Float32Array', 'Float64Array'] as const;

/** Bytes of all typed arrays that are made while `make` runs. */
function bytesMade(make: () => void): number {
  let total = 0;
  const globals = globalThis as unknown as Record<string, Maker>;
  const real = names.map((name) => globals[name]!);
  for (const [n, name] of names.entries())
    globals[name] = new Proxy(real[n]!, {
      construct(target, args) {
        const made = Reflect.construct(target, args);
        if (typeof args[0] === 'number') total += made.byteLength;
        return made;
      },
    });
  try {
    make();
  } finally {
    for (const [n, name] of names.entries()) globals[name] = real[n]!;
  }
  return total;
}

const blank: Flash = {
  sectors: flashSectors,
  sectorBytes,
  pageBytes: 256,
  read: (_, into, length) => {
    into.fill(0xff, 0, length);
    return true;
  },
  program: () => true,
  erase: () => true,
};

function sensor(pairs: number, bits: number): { about: AdcAbout; bytes: number } {
  const about = { pairs, rateHz: 10_240, bits, scale: new Array(2 * pairs).fill(0.01) };
  const clock = new VirtualClock();
  const adc = { about, read: () => {} };
  const identity = { site: 'test-site', name: 'bay-1', at: 'outlet' as const };
  const hal = { adc, clock, link: new MemoryLink(), flash: blank };
  return { about, bytes: bytesMade(() => new Firmware(hal, identity)) };
}

test.each([
  [1, 16],
  [2, 16],
  [3, 16],
  [3, 24],
])('RAM of %i pair(s) of %i bits is what is allocated, within a twentieth', (pairs, bits) => {
  const { about, bytes } = sensor(pairs, bits);
  const told = memoryTable(about)
    .filter(({ where }) => where === 'RAM')
    .reduce((sum, line) => sum + line.bytes, 0);
  expect(told).toBeGreaterThanOrEqual(bytes);
  expect(told).toBeLessThan(bytes * 1.05);
});

test('bytes on air are those that were sent', () => {
  const rig = new Rig({ arcs: [[2, 30]] });
  rig.run(10);
  const before = [...rig.server.stored.values()].reduce((sum, { length }) => sum + length, 0);
  rig.run(10);
  const after = [...rig.server.stored.values()].reduce((sum, { length }) => sum + length, 0);
  const told = memoryTable(rig.hal.adc.about).find(({ what }) => what === 'a second of an arc')!;
  expect(told.bytes / ((after - before) / 10)).toBeGreaterThan(0.97);
  expect(told.bytes / ((after - before) / 10)).toBeLessThan(1.05);
});

test('the printed table adds up', () => {
  const text = memoryText(sensor(1, 16).about);
  expect(text).toContain('together');
  expect(text.split('\n').every((line) => line.length <= 100)).toBe(true);
});
