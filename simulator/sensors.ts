import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { OperatingError } from '../shared/command/outcome.ts';
import { isTopicWord } from '../shared/protocol/topics.ts';
import { Board } from './board.ts';
import { createPlant, type Scenario } from './electrics/index.ts';
import { lastWill } from './firmware/firmware.ts';
import { flashSectors } from './firmware/limits.ts';
import type { Flash } from './hal.ts';
import { Loop } from './loop.ts';
import { FileFlash } from './ports/file-flash.ts';
import { MemoryFlash } from './ports/memory-flash.ts';
import { MqttLink } from './ports/mqtt-link.ts';
import { RealClock } from './ports/real-clock.ts';
import { SimulatedAdc } from './ports/simulated-adc.ts';

export interface Credentials {
  username: string;
  password: string;
}

export interface SensorsOptions {
  scenario: Scenario;
  seed: number;
  /** Times as fast as real. */
  speed: number;
  /** mqtt://host:port */
  brokerUrl: string;
  /** By the sensor's name. */
  credentials: (sensor: string) => Credentials;
  /** Where the sensors' flash lives, a file each; null: in memory, forgotten at the end. */
  flashDir: string | null;
  site: string;
  signal: AbortSignal;
  /** Ends by itself after this much of the scenario's time. */
  seconds?: number;
  /** A line to say: a link's trouble, once each time it changes. */
  says?: (line: string) => void;
}

/** A simulated board's flash: a quarter of a real one, 8 MiB, three minutes of arcs. */
const memorySectors = 128;

/**
 * Starts a sensor for each point of the scenario. `stopped` resolves once the signal is aborted
 * and every sensor has closed its captures, told what it could and said goodbye.
 */
export async function startSensors(options: SensorsOptions): Promise<{ stopped: Promise<void> }> {
  const { scenario, seed, site, signal, says } = options;
  const clock = new RealClock(options.speed);
  const plant = createPlant(scenario, seed);
  const boards = plant.points.map((point) => {
    const { name, sensorAt } = point.about;
    if (!isTopicWord(site) || !isTopicWord(name))
      throw new OperatingError(
        `sensor "${site}/${name}": lower-case letters, digits and inner hyphens are needed`,
      );
    const link = new MqttLink({
      ...options.credentials(name),
      url: options.brokerUrl,
      site,
      sensor: name,
      will: lastWill(),
    });
    const identity = { site, name, at: sensorAt };
    const flash = flashOf(options.flashDir, name);
    return new Board({ adc: new SimulatedAdc(point, clock), clock, link, flash }, identity);
  });
  const loop = new Loop(clock, boards, signal, says);
  return { stopped: loop.run(options.seconds) };
}

function flashOf(folder: string | null, name: string): Flash {
  if (folder === null) return new MemoryFlash(memorySectors);
  mkdirSync(folder, { recursive: true });
  return new FileFlash(join(folder, `${name}.flash`), flashSectors, false);
}
