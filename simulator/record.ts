import { writeFileSync } from 'node:fs';
import { OperatingError, UsageError } from '../shared/command/outcome.ts';
import { Progress } from '../shared/command/progress.ts';
import { FileSink } from '../shared/files/file-sink.ts';
import { ComtradeWriter } from '../shared/recording/comtrade-writer.ts';
import type { ChannelFacts } from '../shared/recording/reader.ts';
import { createPlant, type Point, type Scenario } from './electrics/index.ts';

export interface RecordOptions {
  scenario: Scenario;
  seed: number;
  seconds: number;
  /** `.cfg`, its `.dat` beside it, or `.cff` for both in one. */
  path: string;
  truthPath: string | undefined;
  /** Sensor whose converter is recorded; the scenario's first where none is named. */
  point: string | undefined;
  signal: AbortSignal;
}

const chunkFrames = 8_192;

/**
 * Writes what a converter sees as COMTRADE, as fast as the plant can be worked out. The bytes
 * depend on scenario and seed alone: the record's clock says that it was not set.
 */
export async function record(options: RecordOptions): Promise<void> {
  const { scenario, seed, seconds, path } = options;
  const names = scenario.bays.flatMap((bay) => bay.sensors.map((sensor) => sensor.name));
  const name = options.point ?? names[0];
  if (!name || !names.includes(name))
    throw new UsageError(`--point "${name}": one of ${names.join(', ')} is needed`);
  const plant = createPlant(scenario, seed, [name]);
  const point = plant.points.find(({ about }) => about.name === name)!;
  const sinks = sinksOf(path);
  const writer = new ComtradeWriter(setupOf(point, scenario), sinks);
  const frames = Math.round(seconds * point.about.rateHz);
  const counts = new Int32Array(chunkFrames * 2 * point.about.pairs);
  const progress = new Progress('recording');
  for (let done = 0; done < frames && !options.signal.aborted; ) {
    const part = Math.min(chunkFrames, frames - done);
    point.read(counts, part);
    writer.writeCounts(counts, part);
    done += part;
    progress.show(done / frames);
    // Signals are heard between two pieces only.
    await new Promise((resolve) => setImmediate(resolve));
  }
  progress.end();
  writer.close();
  const files = Object.values(sinks);
  if (options.signal.aborted) {
    for (const file of files) file.drop();
    throw new OperatingError(`${path}: stopped before its end`);
  }
  for (const file of files) file.keep();
  if (options.truthPath === undefined) return;
  try {
    writeFileSync(options.truthPath, `${JSON.stringify(plant.truth(name), null, 2)}\n`);
  } catch (error) {
    throw new OperatingError(
      `${options.truthPath}: ${error instanceof Error ? error.message : ''}`,
    );
  }
}

function sinksOf(path: string): { single: FileSink } | { config: FileSink; samples: FileSink } {
  if (/\.cff$/i.test(path)) return { single: new FileSink(path) };
  const stem = /^(.*)\.cfg$/i.exec(path)?.[1];
  if (stem === undefined)
    throw new UsageError(`--record "${path}": a name that ends in .cfg or .cff is needed`);
  const samples = path.endsWith('CFG') ? `${stem}.DAT` : `${stem}.dat`;
  return { config: new FileSink(path), samples: new FileSink(samples) };
}

function setupOf(point: Point, scenario: Scenario) {
  const { name, pairs, rateHz, bits, voltsPerCount, ampsPerCount } = point.about;
  const wide = bits > 16;
  const channel = (name: string, unit: 'V' | 'A', scale: number): ChannelFacts => ({
    name,
    unit,
    scale,
    offset: 0,
    bits: wide ? 32 : 16,
  });
  const channels: ChannelFacts[] = [];
  for (let pair = 0; pair < pairs; pair++)
    channels.push(
      channel(`v${pair + 1}`, 'V', voltsPerCount[pair]!),
      channel(`i${pair + 1}`, 'A', ampsPerCount[pair]!),
    );
  return {
    channels,
    rateHz,
    hertz: null,
    startedAt: null,
    kind: wide ? ('BINARY32' as const) : ('BINARY' as const),
    station: scenario.name,
    device: name,
  };
}
