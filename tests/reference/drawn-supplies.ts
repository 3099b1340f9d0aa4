import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { Watch } from '../../shared/watch/watch.ts';

export const python = '/usr/bin/python3';
const script = fileURLToPath(new URL('./drawn_supplies.py', import.meta.url));
/** A truth that is nearer to the limit than this is a matter of the sensor's class. */
const clearShare = 0.01;

/** The line before each record's samples. */
interface Head {
  class: string;
  seed: number;
  draw: number;
  rate: number;
  pairs: number;
  frames: number;
  plate: Plate;
  circuit: Circuit | null;
  /** Verdicts that would be false. */
  never: Judgement['verdict'][];
  /** Lowest volts at I1max in any state met while arcs burned, and what the plate needs. */
  worst: number;
  needs: number;
  why: string;
  law: string;
}

export interface Drawn {
  head: Head;
  judgement: Judgement;
  /** The verdict is one that the truth forbids. */
  wrong: boolean;
}

/** The command that draws and judges one record again. */
export const again = ({ class: name, seed, draw }: Head): string =>
  `STIFFLINE_DRAWN_SEED=${seed} STIFFLINE_DRAWN_CLASS=${name} STIFFLINE_DRAWN_ONLY=${draw} ` +
  'npx vitest run tests/reference/drawn-supplies';

/** Judges `count` records of the classes named, or of all in turn, as numpy hands them over. */
export async function* judgeDrawn(
  seed: number,
  count: number,
  classes: readonly string[] = [],
): AsyncGenerator<Drawn> {
  const words = [script, String(seed), String(count), ...classes];
  const child = spawn(python, words, { stdio: ['ignore', 'pipe', 'inherit'] });
  const bytes = new Bytes(child.stdout);
  for (;;) {
    const line = await bytes.line();
    if (line === null) break;
    const head = JSON.parse(line) as Head;
    const samples = await bytes.take(head.frames * head.pairs * 2 * 4);
    yield judgedRecord(head, samples);
  }
}

function judgedRecord(head: Head, samples: Buffer): Drawn {
  const judgement = judge(head, samples);
  // Between the two limits either word is right: the sensor's own error decides.
  const near = Math.abs(head.worst / head.needs - 1) < clearShare;
  const under = head.worst < head.needs;
  const isWeak = head.never.includes('adequate');
  const clear = !near && isWeak === under;
  return { head, judgement, wrong: clear && head.never.includes(judgement.verdict) };
}

function judge({ rate, pairs, frames, plate, circuit }: Head, samples: Buffer): Judgement {
  const watch = new Watch(
    {
      rateHz: rate,
      pairs,
      startedAt: null,
      nominalVolts: circuit?.volts ?? null,
      nominalHertz: null,
      plate,
      circuit,
      keep: 50,
    },
    {},
  );
  const width = pairs * 2;
  const copied = samples.buffer.slice(samples.byteOffset, samples.byteOffset + samples.byteLength);
  const values = new Float32Array(copied);
  const isLost = (frame: number) => {
    for (let c = 0; c < width; c++) if (Number.isNaN(values[frame * width + c]!)) return true;
    return false;
  };
  for (let from = 0; from < frames; ) {
    const lost = isLost(from);
    let to = from + 1;
    while (to < frames && to - from < 4096 && isLost(to) === lost) to++;
    if (lost) watch.skip(to - from, 'lost');
    else watch.push(columns(values, width, from, to), to - from);
    from = to;
  }
  watch.end();
  return watch.judgement('drawn');
}

const columns = (values: Float32Array, width: number, from: number, to: number) =>
  Array.from({ length: width }, (_, c) =>
    Float64Array.from({ length: to - from }, (_, n) => values[(from + n) * width + c]!),
  );

/** Lines and pieces of a byte stream. */
class Bytes {
  readonly #chunks: AsyncIterator<Buffer>;
  #held: Buffer = Buffer.alloc(0);

  constructor(stream: AsyncIterable<Buffer>) {
    this.#chunks = stream[Symbol.asyncIterator]();
  }

  /** Null at the end of the stream. */
  async line(): Promise<string | null> {
    for (;;) {
      const end = this.#held.indexOf(10);
      if (end >= 0) {
        const line = this.#held.toString('utf8', 0, end);
        this.#held = this.#held.subarray(end + 1);
        return line;
      }
      if (!(await this.#more())) return null;
    }
  }

  async take(size: number): Promise<Buffer> {
    const parts = [this.#held];
    let have = this.#held.length;
    while (have < size) {
      const { value, done } = await this.#chunks.next();
      if (done) throw new Error('the stream of records ended within one');
      parts.push(value);
      have += value.length;
    }
    const all = Buffer.concat(parts);
    this.#held = all.subarray(size);
    return all.subarray(0, size);
  }

  async #more(): Promise<boolean> {
    const { value, done } = await this.#chunks.next();
    if (done) return false;
    this.#held = Buffer.concat([this.#held, value]);
    return true;
  }
}
