import { sliceS } from './clockwork.ts';

/**
 * Thermal pick-up, of rated current: the strip settles just too cool to trip at 1.2 times rated,
 * above the 1.0 that must hold and below the 1.35 that must trip (UL 489, from memory).
 */
const pickUp = 1.2;

/** A strip must cool below this part of its pick-up before the handle stays in (estimate). */
const coolPart = 0.85;

/** Time constant of the bimetal strip: 200 % then trips in 54 s to 30 A, 107 s above. */
export const stripTauS = (ratedAmps: number): number => (ratedAmps <= 30 ? 120 : 240);

/** Thermal-magnetic breaker: a strip warmed by the current's square, and a coil for its peaks. */
export class Breaker {
  open = false;
  private readonly ratedAmps: number;
  private readonly magneticAmps: number;
  private readonly resetS: number;
  private heat = 0;
  private openFor = 0;

  constructor(ratedAmps: number, magneticMultiple: number, resetS: number) {
    this.ratedAmps = ratedAmps;
    this.magneticAmps = ratedAmps * magneticMultiple * Math.SQRT2;
    this.resetS = resetS;
  }

  /** A slow look at the last slice's mean square and peak. @returns whether it moved. */
  slice(amps2: number, peakAmps: number): boolean {
    const load = amps2 / (this.ratedAmps * this.ratedAmps);
    this.heat += ((load - this.heat) * sliceS) / stripTauS(this.ratedAmps);
    if (this.open) {
      this.openFor += sliceS;
      if (this.openFor < this.resetS || this.heat > coolPart * pickUp * pickUp) return false;
      this.open = false;
      return true;
    }
    if (this.heat < pickUp * pickUp && peakAmps < this.magneticAmps) return false;
    this.open = true;
    this.openFor = 0;
    return true;
  }
}
