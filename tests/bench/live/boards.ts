/**
 * A process of sensors that run the real firmware on the real clock, over made-up outlets. One
 * JSON line of orders on stdin; a line on stdout for every arc with the moment of its first sample,
 * in epoch milliseconds. Ends with stdin.
 */
import { Board } from '../../../simulator/board.ts';
import { lastWill } from '../../../simulator/firmware/firmware.ts';
import { Loop } from '../../../simulator/loop.ts';
import { MemoryFlash } from '../../../simulator/ports/memory-flash.ts';
import { MqttLink } from '../../../simulator/ports/mqtt-link.ts';
import { RealClock } from '../../../simulator/ports/real-clock.ts';
import { type Arcs, Outlet, rateHz } from './outlet.ts';

export interface BoardOrders {
  port: number;
  sensors: { username: string; password: string; name: string }[];
  /** Null: no arc ever. */
  arcs: Arcs | null;
}

process.stdin.once('data', async (line) => {
  const { port, sensors, arcs } = JSON.parse(String(line)) as BoardOrders;
  const clock = new RealClock();
  const startedMs = performance.timeOrigin + performance.now();
  const boards = sensors.map(({ username, password, name }, at) => {
    const link = new MqttLink({
      ...{ username, password, url: `mqtt://127.0.0.1:${port}`, site: 'bench', sensor: name },
      will: lastWill(),
    });
    const struck = (frame: number) =>
      process.stdout.write(`${name} ${startedMs + (frame * 1_000) / rateHz}\n`);
    const staggered = arcs && { ...arcs, firstS: arcs.firstS + (0.53 * at) / sensors.length };
    const adc = new Outlet(clock, staggered, struck);
    const flash = new MemoryFlash(16);
    return new Board({ adc, clock, link, flash }, { site: 'bench', name, at: 'machine' });
  });
  const stop = new AbortController();
  process.stdin.once('end', () => stop.abort());
  await new Loop(clock, boards, stop.signal).run();
  process.exit();
});
