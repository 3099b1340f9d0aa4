import { PerformanceObserver } from 'node:perf_hooks';
import { setTimeout as wait } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { Firmware } from '../../simulator/firmware/firmware.ts';
import type { Adc, AdcBlock, Link, Received } from '../../simulator/hal.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';
import { VirtualClock } from '../../simulator/ports/virtual-clock.ts';
import { about, rateHz } from './rig.ts';

/** A second of frames made beforehand, so that the ports themselves allocate nothing. */
class LoopAdc implements Adc {
  readonly about = about;
  readonly #second = new Int32Array(2 * rateHz);
  #at = 0;
  waiting = 0;

  constructor() {
    for (let n = 0; n < rateHz; n++) {
      const sine = Math.SQRT2 * Math.sin((2 * Math.PI * 60 * n) / rateHz);
      this.#second[2 * n] = Math.round((120 * sine) / about.scale[0]!);
      this.#second[2 * n + 1] = Math.round(((n > rateHz / 2 ? 20 : 1) * sine) / about.scale[1]!);
    }
  }

  read(into: Int32Array, block: AdcBlock): void {
    block.frames = Math.min(this.waiting, into.length / 2);
    block.first = this.#at;
    block.micros = (this.#at * 1e6) / rateHz;
    block.lost = 0;
    let from = (this.#at % rateHz) * 2;
    for (let n = 0; n < 2 * block.frames; n++) {
      into[n] = this.#second[from++]!;
      if (from === 2 * rateHz) from = 0;
    }
    this.#at += block.frames;
    this.waiting -= block.frames;
  }
}

/** Acknowledges what it is given by a keep written into the caller's own bytes. */
class EchoLink implements Link {
  session = 1;
  #kept = false;

  send(kind: string): boolean {
    if (kind === 'wave' || kind === 'arc') this.#kept = true;
    return true;
  }

  receive(message: Received): boolean {
    if (!this.#kept) return false;
    this.#kept = false;
    message.kind = 'keep';
    message.length = keepEmpty.length;
    for (let n = 0; n < keepEmpty.length; n++) message.bytes[n] = keepEmpty[n]!;
    return true;
  }
}
const keepEmpty = Uint8Array.of(0xa2, 0x61, 0x76, 0x01, 0x63, 0x73, 0x65, 0x71, 0x00);

/** Collections of the young generation while something runs. */
async function collections(run: () => void): Promise<number> {
  let count = 0;
  const observer = new PerformanceObserver((list) => (count += list.getEntries().length));
  observer.observe({ entryTypes: ['gc'] });
  run();
  await wait(20);
  observer.disconnect();
  return count;
}

test('a minute of arcs allocates next to nothing; a leaky control is noticed', async () => {
  const clock = new VirtualClock();
  const adc = new LoopAdc();
  const flash = new MemoryFlash(64);
  const firmware = new Firmware(
    { adc, clock, link: new EchoLink(), flash },
    { site: 'test-site', name: 'bay-1', at: 'outlet' },
  );
  const run = (seconds: number, leak?: (frames: number) => void) => {
    for (let n = 0; n < seconds * 40; n++) {
      clock.advance(25_000);
      adc.waiting += rateHz / 40;
      firmware.tick();
      leak?.(rateHz / 40);
    }
  };
  run(20); // until the compiler is done with it
  const clean = await collections(() => run(60));
  const kept: unknown[] = [];
  const leaky = await collections(() =>
    run(60, (frames) => {
      for (let n = 0; n < frames; n++)
        kept[n] = { v: n + 0.1, i: n + 0.2, vv: n + 0.3, ii: n + 0.4 };
    }),
  );
  expect(leaky).toBeGreaterThan(3);
  expect(clean).toBeLessThan(leaky / 2);
  expect(firmware.health.flashErrors).toBe(0);
});
