import { openRecording } from '../../shared/recording/open.ts';
import type { RecordingReader } from '../../shared/recording/reader.ts';
import { ArraySource, type ByteSink } from '../../shared/recording/source.ts';
import { encodeText } from '../../shared/recording/text.ts';

type Content = string | Uint8Array;

const source = (content: Content) =>
  new ArraySource(typeof content === 'string' ? encodeText(content) : content);

/** Opens a recording in memory; `beside` holds its siblings by extension. */
export function openBytes(
  name: string,
  main: Content,
  beside: Readonly<Record<string, Content>> = {},
): RecordingReader {
  return openRecording({
    name,
    main: source(main),
    sibling: (extension) => {
      const content = beside[extension];
      return content === undefined ? null : source(content);
    },
  });
}

/** All columns in full, and the gaps as [row index, rows lost before it]. */
export function readAll(reader: RecordingReader) {
  const columns: number[][] = reader.facts.channels.map(() => []);
  const gaps: [number, number][] = [];
  for (let block = reader.next(); block; block = reader.next()) {
    if (block.gapFrames > 0) gaps.push([columns[0]!.length, block.gapFrames]);
    for (const [index, column] of columns.entries())
      for (let row = 0; row < block.frames; row++) column.push(block.channels[index]![row]!);
  }
  return { columns, gaps };
}

/** Opens and reads all; the message of the error that came. */
export function refusal(open: () => RecordingReader): string {
  try {
    readAll(open());
  } catch (error) {
    return error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  }
  return 'nothing was refused';
}

/** Bytes that a writer wrote. */
export class MemorySink implements ByteSink {
  #bytes = new Uint8Array(1024);
  #used = 0;

  get bytes(): Uint8Array {
    return this.#bytes.slice(0, this.#used);
  }

  write(bytes: Uint8Array): void {
    while (this.#used + bytes.length > this.#bytes.length) {
      const larger = new Uint8Array(2 * this.#bytes.length);
      larger.set(this.#bytes);
      this.#bytes = larger;
    }
    this.#bytes.set(bytes, this.#used);
    this.#used += bytes.length;
  }

  rewrite(bytes: Uint8Array, position: number): void {
    this.#bytes.set(bytes, position);
  }
}
