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

/** @throws RecordingError */
export function openRecording(files: RecordingFiles): RecordingReader {
  throw new RecordingError(`${files.name}: reading is not written yet`);
}
