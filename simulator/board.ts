import { Firmware, type Hal, type Identity } from './firmware/firmware.ts';
import { FileFlash } from './ports/file-flash.ts';
import type { MqttLink } from './ports/mqtt-link.ts';

/** A board with a broker's link: runs the firmware, and is its watchdog. */
export class Board {
  readonly name: string;
  readonly link: MqttLink;
  readonly #hal: Hal;
  readonly #identity: Identity;
  readonly #watchdog: boolean;
  #firmware: Firmware;

  /** Without a watchdog a converter may pause: a recording has gaps, and may wait. */
  constructor(hal: Hal & { link: MqttLink }, identity: Identity, watchdog = true) {
    this.name = identity.name;
    this.link = hal.link;
    this.#hal = hal;
    this.#identity = identity;
    this.#watchdog = watchdog;
    this.#firmware = new Firmware(hal, identity);
  }

  get firmware(): Firmware {
    return this.#firmware;
  }

  tick(): void {
    if (this.#firmware.tick() === 'restart' && this.#watchdog)
      this.#firmware = new Firmware(this.#hal, this.#identity, 'watchdog');
  }

  /** Whether a stopped sensor has nothing more to bring. */
  get done(): boolean {
    return this.#firmware.delivered;
  }

  async close(): Promise<void> {
    await this.link.close();
    if (this.#hal.flash instanceof FileFlash) this.#hal.flash.close();
  }
}
