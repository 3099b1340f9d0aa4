import { assert } from '../assert.ts';
import { formatStamp } from './civil-time.ts';
import type { ByteSink } from './source.ts';
import { encodeText } from './text.ts';
import type { RecordingWriter, WriterSetup } from './writer.ts';

/** Writes the CSV of a recorded stream; numbers as short as they read back exactly. */
export class CsvWriter implements RecordingWriter {
  readonly #setup: WriterSetup;
  readonly #sink: ByteSink;
  #row = 0;

  constructor(setup: WriterSetup, sink: ByteSink) {
    const { channels } = setup;
    assert([2, 4, 6].includes(channels.length), 'one to three pairs');
    this.#setup = setup;
    this.#sink = sink;
    const columns = channels.map((channel, index) => {
      assert(channel.unit === (index % 2 === 0 ? 'V' : 'A'), 'voltage and current alternate');
      return index % 2 === 0 ? `v${index / 2 + 1}_V` : `i${(index + 1) / 2}_A`;
    });
    const head = [`# rate: ${setup.rateHz}`];
    if (setup.hertz !== null) head.push(`# hertz: ${setup.hertz}`);
    if (setup.startedAt !== null) head.push(`# started: ${formatStamp(setup.startedAt)}`);
    sink.write(encodeText(`${[...head, ['t_s', ...columns].join(',')].join('\n')}\n`));
  }

  writeValues(columns: readonly Float64Array[], frames: number): void {
    let text = '';
    for (let frame = 0; frame < frames; frame++) {
      text += (this.#row++ / this.#setup.rateHz).toFixed(9);
      for (const column of columns) text += `,${column[frame]!}`;
      text += '\n';
    }
    this.#sink.write(encodeText(text));
  }

  skip(frames: number): void {
    this.#row += frames;
  }

  close(): void {}
}
