import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));

export interface RunningShop {
  url: string;
  data: string;
  /** Everything said on stderr so far. */
  talk(): string;
  /** SIGTERM, then the exit status. */
  stop(): Promise<number | null>;
  kill(): Promise<void>;
}

/** `stiffline run` as a user starts it, on free ports and with a data folder of its own. */
export async function startShop(
  flags: readonly string[] = [],
  data = mkdtempSync(join(tmpdir(), 'stiffline-e2e-')),
): Promise<RunningShop> {
  const args = ['dist/stiffline.js', 'run', '--http-port', '0', '--mqtt-port', '0'];
  const child = spawn(process.execPath, [...args, '--data', data, ...flags], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let talk = '';
  child.stderr.on('data', (chunk: Buffer) => {
    talk += chunk.toString();
  });
  const url = await firstUrl(child, () => talk);
  const ended = new Promise<number | null>((resolve) => child.once('exit', resolve));
  return {
    url,
    data,
    talk: () => talk,
    async stop() {
      child.kill('SIGTERM');
      const status = await ended;
      rmSync(data, { recursive: true, force: true });
      return status;
    },
    async kill() {
      child.kill('SIGKILL');
      await ended;
    },
  };
}

function firstUrl(child: ChildProcess, talk: () => string): Promise<string> {
  return new Promise((resolve, reject) => {
    child.once('exit', (status) => reject(new Error(`run ended with ${status}: ${talk()}`)));
    const lines = createInterface({ input: child.stdout! });
    lines.on('line', (line) => {
      const url = /https?:\/\/\S+/.exec(line)?.[0];
      if (url) resolve(url);
    });
  });
}
