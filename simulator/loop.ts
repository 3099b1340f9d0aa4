import type { Board } from './board.ts';
import type { RealClock } from './ports/real-clock.ts';

/** Between rounds of ticks: 256 frames at 10,240/s, few enough turns to cost next to nothing. */
const roundMs = 25;
/** What sensors may still deliver once they are told to stop; the whole program has ten seconds. */
const drainMs = 4_000;

/** The main loop of all boards of a process: a turn of the clock, then a tick of each. */
export class Loop {
  readonly #clock: RealClock;
  readonly #boards: readonly Board[];
  readonly #signal: AbortSignal;
  readonly #says: (line: string) => void;
  readonly #told = new Map<Board, string>();

  constructor(
    clock: RealClock,
    boards: readonly Board[],
    signal: AbortSignal,
    says: (line: string) => void = () => {},
  ) {
    this.#clock = clock;
    this.#boards = boards;
    this.#signal = signal;
    this.#says = says;
  }

  /** Runs until the signal, or until `ended` or a time of the clock, then until all is told. */
  async run(seconds = Number.POSITIVE_INFINITY, ended = () => false): Promise<void> {
    for (const board of this.#boards) board.link.open();
    const over = () => this.#clock.monotonicMicros() >= seconds * 1e6;
    try {
      await this.#rounds(() => this.#signal.aborted || ended() || over());
      for (const board of this.#boards) board.firmware.stop();
      const until = performance.now() + drainMs;
      const done = () => this.#boards.every((board) => board.done);
      await this.#rounds(() => done() || performance.now() > until);
      // One more turn of each: the last state says offline, for those that hear the link end.
      await this.#round();
    } finally {
      await Promise.all(this.#boards.map((board) => board.close()));
    }
  }

  async #rounds(over: () => boolean): Promise<void> {
    while (!over()) await this.#round();
  }

  async #round(): Promise<void> {
    this.#clock.turn();
    for (const board of this.#boards) {
      board.tick();
      this.#complain(board);
    }
    await new Promise((resolve) => setTimeout(resolve, roundMs));
  }

  #complain(board: Board): void {
    const trouble = board.link.trouble?.says ?? '';
    if (trouble === (this.#told.get(board) ?? '')) return;
    this.#told.set(board, trouble);
    if (trouble) this.#says(`sensor ${board.name}: ${trouble}`);
  }
}
