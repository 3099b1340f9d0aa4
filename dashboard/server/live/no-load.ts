import type { Seconds, Volts } from '../../../shared/units.ts';

/** A swell or a plug that is being pushed in is over by then. */
const steadyS: Seconds = 2;
/** A move over this part of the voltage begins the wait anew. */
const steadyPart = 0.015;

/** The voltage of each pair while nothing is welded, once it has been steady for some seconds. */
export class NoLoad {
  /** Mean of the steady run. */
  #volts: Volts[] = [];
  #forS: Seconds = 0;

  /** `volts`: one entry a pair, which stand for `spanS`. */
  add(volts: readonly Volts[], spanS: Seconds): void {
    const moved =
      this.#volts.length !== volts.length ||
      volts.some((each, pair) => {
        const mean = this.#volts[pair]!;
        return !(Math.abs(each - mean) <= steadyPart * mean);
      });
    if (moved) {
      this.#volts = [...volts];
      this.#forS = spanS;
      return;
    }
    this.#forS += spanS;
    const part = spanS / this.#forS;
    for (let pair = 0; pair < volts.length; pair++)
      this.#volts[pair]! += part * (volts[pair]! - this.#volts[pair]!);
  }

  clear(): void {
    this.#volts = [];
    this.#forS = 0;
  }

  get steady(): readonly Volts[] | null {
    return this.#forS >= steadyS ? this.#volts : null;
  }
}
