import type { Amperes, Fraction, Ohms, SampleIndex, Volts } from '../units.ts';

/** Lower and upper end of a 95 % interval. */
export type Interval = [lo: number, hi: number];

/**
 * The supply as one voltage–current pair sees it: an open-circuit voltage E behind R + jX at the
 * fundamental, V = E − (R + jX)·I. Between two hot legs it is the loop of both legs; between a
 * phase and neutral that of phase and neutral.
 */
export interface SupplyEstimate {
  /** True r.m.s. with no own current, as last seen. */
  openVolts: Volts;
  /** Standard uncertainty of `openVolts`: how far the background moves within seconds. */
  openVoltsSd: Volts;
  /** The same before and after the newest arc, and the lowest beside the last ten minutes' arcs:
   * what a forecast stands on, whatever the supply did since. */
  arcOpenVolts: Volts;
  arcOpenLowVolts: Volts;
  arcOpenSd: Volts;
  ohmsR: Ohms;
  ohmsX: Ohms;
  ohmsR95: Interval;
  ohmsX95: Interval;
  /** Standard covariance of R and X, ohm². */
  varianceR: number;
  varianceX: number;
  covarianceRX: number;
  /** Student's factor that widens a standard deviation to the 95 % interval. */
  coverage: number;
  /** Current steps that the estimate stands on. */
  steps: number;
  /** Largest of those steps, fundamental r.m.s. */
  largestStepAmps: Amperes;
  /** Angle by which the fundamental of the arc's current lags the voltage; leads where negative. */
  lagRadians: number;
  /** Fundamental over true r.m.s. of the arc's current; 1 for a sine. */
  fundamentalShare: Fraction;
  /** End of the last row that the estimate knows. */
  at: SampleIndex;
}

/** A voltage step that the sensor's own current does not explain: another load on the supply. */
export interface OtherLoadEvent {
  at: SampleIndex;
  /** Change of the open-circuit voltage; negative when a load came on. */
  volts: Volts;
  /** 95 % half-width of `volts`. */
  halfWidthVolts: Volts;
  duringArc: boolean;
  /** The open-circuit voltage before it; before the first of several that came close together. */
  openVolts: Volts;
  /** What is left of it three seconds later, or as late as the stream has come; null at first. */
  lastsVolts: Volts | null;
  lastsHalfWidthVolts: Volts | null;
  /** The furthest that it was from `openVolts` in that time, over three cycles. */
  mostVolts: Volts;
}
