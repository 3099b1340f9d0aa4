import { AsciiRows } from './comtrade-ascii.ts';
import { BinaryRows } from './comtrade-binary.ts';
import { splitCff } from './comtrade-cff.ts';
import { type ComtradeConfig, parseConfig } from './comtrade-cfg.ts';
import { type Pick, pairChannels } from './comtrade-channels.ts';
import { Deskew, isSkewed } from './deskew.ts';
import { MissingRows } from './missing-rows.ts';
import {
  type RecordingBlock,
  RecordingError,
  type RecordingFacts,
  type RecordingReader,
  readFrames,
} from './reader.ts';
import type { ByteSource } from './source.ts';
import { decodeText } from './text.ts';

/** A configuration of 10,000 channels takes about a megabyte. */
const mostConfigBytes = 4 * 2 ** 20;

/** The names that messages give to the two halves of a recording. */
export interface ComtradeParts {
  configName: string;
  config: string;
  samplesName: string;
  samples: ByteSource;
}

/** Reads COMTRADE (IEEE C37.111-1991, -1999, -2013): volts and amperes of the paired channels. */
export class ComtradeReader implements RecordingReader {
  readonly facts: RecordingFacts;
  readonly #rows: AsciiRows | BinaryRows;
  readonly #onTime: { next(): RecordingBlock | null };

  /** @throws RecordingError */
  constructor(parts: ComtradeParts) {
    const config = parseConfig(parts.configName, parts.config);
    const { pairs, picks, channels, leftOut } = pairChannels(parts.configName, config);
    this.#rows = openRows(parts.samplesName, parts.samples, config, picks);
    const lags = picks.map(
      ({ column }) => config.analogs[column]!.skewMicros * 1e-6 * this.#rows.rateHz,
    );
    const there = new MissingRows(this.#rows, () => this.#rows.missing);
    this.#onTime = lags.some(isSkewed) ? new Deskew(there, lags, readFrames) : there;
    this.facts = {
      format: `COMTRADE ${config.revision} ${config.kind}`,
      rateHz: this.#rows.rateHz,
      pairs,
      startedAt: config.startedAt,
      frames: this.#rows.frames,
      channels,
      nominalHertz: nominal(config.hertz),
      leftOut,
    };
  }

  get progress() {
    return this.#rows.progress;
  }

  get missing() {
    return this.#rows.missing;
  }

  next() {
    return this.#onTime.next();
  }
}

/** The rows of any channels, paired or not; what is missing is not a number. */
export function openRows(
  name: string,
  samples: ByteSource,
  config: ComtradeConfig,
  picks: readonly Pick[],
): AsciiRows | BinaryRows {
  if (samples.size === 0) throw new RecordingError(`${name}: is empty; rows of samples are needed`);
  return config.kind === 'ASCII'
    ? new AsciiRows(name, samples, config, picks)
    : new BinaryRows(name, samples, config, picks);
}

/** @throws RecordingError where the configuration is too long to be one. */
export function configText(name: string, source: ByteSource): string {
  if (source.size > mostConfigBytes)
    throw new RecordingError(
      `${name}: ${source.size} bytes are no COMTRADE .cfg; ${mostConfigBytes} are the most`,
    );
  const bytes = new Uint8Array(source.size);
  return decodeText(bytes.subarray(0, source.read(bytes, 0))).replace(/^\ufeff/, '');
}

/** @throws RecordingError */
export function openCff(name: string, source: ByteSource): ComtradeReader {
  const { config, samples } = splitCff(name, source);
  return new ComtradeReader({ configName: name, config, samplesName: name, samples });
}

/** A grid of 50 or 60 Hz, told within the band that its meters follow. */
function nominal(hertz: number | null): 50 | 60 | null {
  if (hertz === null) return null;
  return Math.abs(hertz - 50) < 5 ? 50 : Math.abs(hertz - 60) < 5 ? 60 : null;
}
