import type { WriteStream } from 'node:tty';

/** A bar on a terminal for work that takes longer than a moment; silent elsewhere. */
export class Progress {
  readonly #stream: Pick<WriteStream, 'isTTY' | 'write' | 'columns'>;
  readonly #label: string;
  readonly #clock: () => number;
  readonly #startedMs: number;
  #shownMs = 0;
  #shown = false;

  constructor(
    label: string,
    stream: Pick<WriteStream, 'isTTY' | 'write' | 'columns'> = process.stderr,
    clock: () => number = () => performance.now(),
  ) {
    this.#label = label;
    this.#stream = stream;
    this.#clock = clock;
    this.#startedMs = clock();
  }

  /** `done` is a part of one. Draws ten times a second at most, never in the first half second. */
  show(done: number): void {
    if (!this.#stream.isTTY) return;
    const now = this.#clock();
    if (now - this.#startedMs < 500 || now - this.#shownMs < 100) return;
    this.#shownMs = now;
    this.#shown = true;
    const width = Math.max(
      10,
      Math.min(40, (this.#stream.columns || 80) - this.#label.length - 12),
    );
    const filled = Math.round(Math.min(1, Math.max(0, done)) * width);
    const percent = `${Math.floor(done * 100)} %`.padStart(5);
    this.#stream.write(
      `\r${this.#label} ${'#'.repeat(filled)}${'-'.repeat(width - filled)} ${percent}`,
    );
  }

  /** Takes the bar away. */
  end(): void {
    if (this.#shown) this.#stream.write('\r\u001b[K');
  }
}
