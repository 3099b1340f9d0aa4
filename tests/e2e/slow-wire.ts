import { createServer, connect as dial, type Server, type Socket } from 'node:net';

/** A wire between a browser and a server that can go dead without either being told. */
export class Wire {
  readonly #server: Server;
  readonly #ends = new Set<Socket>();
  #dead = false;
  url = '';

  constructor(target: string) {
    const { hostname, port } = new URL(target);
    this.#server = createServer((near) => {
      if (this.#dead) return this.#hold(near);
      const far = dial(Number(port), hostname);
      for (const [from, to] of [
        [near, far],
        [far, near],
      ] as const) {
        this.#hold(from);
        from.on('data', (data) => this.#dead || to.write(data));
        from.on('close', () => this.#dead || to.destroy());
      }
    });
  }

  async lay(): Promise<void> {
    await new Promise<void>((resolve) => this.#server.listen(0, '127.0.0.1', resolve));
    const address = this.#server.address();
    if (address && typeof address === 'object') this.url = `http://127.0.0.1:${address.port}/`;
  }

  /** What is sent from now on is lost, and nobody hears of it. */
  cut(): void {
    this.#dead = true;
  }

  /** New connections go through; whoever still holds an old one learns that it is gone. */
  mend(): void {
    for (const end of this.#ends) end.destroy();
    this.#dead = false;
  }

  async close(): Promise<void> {
    for (const end of this.#ends) end.destroy();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #hold(end: Socket): void {
    this.#ends.add(end);
    end.on('error', () => {});
    end.on('close', () => this.#ends.delete(end));
  }
}
