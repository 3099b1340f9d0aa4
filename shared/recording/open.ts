import { ComtradeReader, configText, openCff } from './comtrade-reader.ts';
import { CsvReader } from './csv-reader.ts';
import { RecordingError, type RecordingReader } from './reader.ts';
import type { ByteSource } from './source.ts';

/** A recording as given: its main file and a way to the files beside it. */
export interface RecordingFiles {
  /** File name, for messages and for its extension. */
  name: string;
  main: ByteSource;
  /** The file of the same name with another extension (`cfg`, `dat`), in any case; or null. */
  sibling(extension: string): ByteSource | null;
}

/** A cycle of 60 Hz needs 16 samples to be measured at all. */
const leastRateHz = 1000;
/** Faster than any converter of mains quantities: a rate beyond it is a wrong unit. */
const mostRateHz = 10e6;

/**
 * Opens a recording by its extension: `.csv` (and `.txt`), `.cfg` or `.dat`, `.cff`.
 * @throws RecordingError
 */
export function openRecording(files: RecordingFiles): RecordingReader {
  const reader = openByName(files);
  const { rateHz } = reader.facts;
  if (!(rateHz >= leastRateHz * 0.999 && rateHz <= mostRateHz))
    throw new RecordingError(
      `${files.name}: ${Number(rateHz.toPrecision(6))} samples/s; ` +
        `from ${leastRateHz} to ${mostRateHz} can be measured`,
    );
  return reader;
}

function openByName(files: RecordingFiles): RecordingReader {
  const { name, main } = files;
  const extension = /\.([a-z0-9]+)$/i.exec(name)?.[1]?.toLowerCase() ?? '';
  switch (extension) {
    case 'csv':
    case 'txt':
      return new CsvReader(name, main);
    case 'cff':
      return openCff(name, main);
    case 'cfg':
      return comtrade(name, main, beside(name, 'dat'), needed(files, 'dat'));
    case 'dat':
      return comtrade(beside(name, 'cfg'), needed(files, 'cfg'), name, main);
    default:
      throw new RecordingError(
        `${name}: a recording's kind shows in its name's ending; ` +
          '.csv, .cfg (with its .dat) or .cff is needed',
      );
  }
}

function comtrade(
  configName: string,
  config: ByteSource,
  samplesName: string,
  samples: ByteSource,
): RecordingReader {
  return new ComtradeReader({
    configName,
    config: configText(configName, config),
    samplesName,
    samples,
  });
}

function beside(name: string, extension: string): string {
  return name.replace(/\.[^.]+$/, `.${extension}`);
}

function needed(files: RecordingFiles, extension: string): ByteSource {
  const source = files.sibling(extension);
  if (source === null)
    throw new RecordingError(
      `${files.name}: the other half, ${beside(files.name, extension)}, is not beside it`,
    );
  return source;
}
