import { RecordingError } from './reader.ts';
import { type ByteSource, SourcePart } from './source.ts';
import { LineReader } from './text.ts';

/** Text before the samples of a .cff; a configuration with its notes is a few kilobytes. */
const mostHeadBytes = 4 * 2 ** 20;
const separator = /^-{2,}\s*file type:\s*([a-z]+)\s*([a-z0-9]*)\s*:?\s*(\d*)\s*-{2,}$/i;

/** A single-file COMTRADE (2013): the text of its .cfg and the bytes of its samples. */
export interface CffParts {
  config: string;
  samples: ByteSource;
}

/** @throws RecordingError */
export function splitCff(name: string, source: ByteSource): CffParts {
  const lines = new LineReader(name, source);
  const config: string[] = [];
  let section = '';
  while (lines.next()) {
    if (lines.position > mostHeadBytes)
      throw new RecordingError(
        `${name}: no samples in the first ${mostHeadBytes} bytes; ` +
          '"--- file type: DAT … ---" is needed',
      );
    const text = lines.text();
    const found = separator.exec(text.replace(/^\ufeff/, '').trim());
    if (!found) {
      if (section === '' && text.trim() !== '')
        throw new RecordingError(
          `${name}: line ${lines.line} is no section; "--- file type: CFG ---" is needed`,
        );
      // Keeps the lines' numbers those of the file.
      while (section === 'CFG' && config.length < lines.line - 1) config.push('');
      if (section === 'CFG') config.push(text);
      continue;
    }
    section = found[1]!.toUpperCase();
    if (section !== 'DAT') continue;
    const from = lines.position;
    const told = Number(found[3]);
    // A writer that was cut off never came to say the length.
    const size = told > 0 ? told : source.size - from;
    if (size > source.size - from)
      throw new RecordingError(
        `${name}: is cut: ${source.size - from} bytes of samples are there ` +
          `and ${size} are promised`,
      );
    return { config: config.join('\n'), samples: new SourcePart(source, from, size) };
  }
  throw new RecordingError(
    source.size === 0
      ? `${name}: is empty; a COMTRADE .cff is needed`
      : `${name}: ends without samples; "--- file type: DAT … ---" is needed`,
  );
}
