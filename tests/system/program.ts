import { type ChildProcess, spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

/** A stiffline program as a user starts it, as built. */
export class Program {
  readonly child: ChildProcess;
  out = '';
  err = '';
  readonly #ended: Promise<number | string>;

  constructor(...args: string[]) {
    this.child = spawn(process.execPath, ['dist/stiffline.js', ...args], {
      cwd: root,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    this.child.stdout?.on('data', (chunk) => {
      this.out += chunk;
    });
    this.child.stderr?.on('data', (chunk) => {
      this.err += chunk;
    });
    this.#ended = new Promise((resolve) =>
      this.child.once('close', (code, signal) => resolve(code ?? signal ?? 'gone')),
    );
  }

  /** The first line on stdout: the address it goes by. */
  async line(withinMs = 60_000): Promise<string> {
    await until(() => this.out.includes('\n') || this.child.exitCode !== null, withinMs, this.err);
    return this.out.split('\n')[0]!;
  }

  /** Exit status, or the name of the signal that ended it. */
  ended(): Promise<number | string> {
    return this.#ended;
  }

  /** Ends it as a user does, and gives its status. */
  stop(signal: NodeJS.Signals = 'SIGTERM'): Promise<number | string> {
    this.child.kill(signal);
    return this.#ended;
  }
}

/** Waits for something to become so. */
export async function until(
  so: () => boolean | Promise<boolean>,
  withinMs: number,
  what = '',
): Promise<void> {
  const end = performance.now() + withinMs;
  while (!(await so())) {
    if (performance.now() > end) throw new Error(`not within ${withinMs} ms: ${so} ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

export async function get<T>(url: string, path: string): Promise<T> {
  const answer = await fetch(new URL(path, url));
  if (!answer.ok) throw new Error(`${path}: ${answer.status} ${await answer.text()}`);
  return (await answer.json()) as T;
}
