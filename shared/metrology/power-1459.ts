/** Phasors of harmonic orders: r.m.s. scale, index = order, 0 the direct component. */
export interface Phasors {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

/** What the whole waveform carries, harmonics and all else: r.m.s. values and mean of v·i. */
export interface WholePower {
  readonly volts: number;
  readonly amps: number;
  readonly watts: number;
}

/**
 * Power of one voltage–current pair after IEEE 1459-2010, 3.1.2 (single phase, not sinusoidal).
 * Volts, amperes, watts, var and VA; distortions and power factors are fractions, NaN where the
 * fundamental they are referred to is nil.
 */
export interface Power1459 {
  V: number;
  I: number;
  P: number;
  S: number;
  /** Non-active power √(S² − P²). */
  N: number;
  PF: number;
  V1: number;
  I1: number;
  P1: number;
  Q1: number;
  S1: number;
  /** Displacement power factor P1/S1. */
  PF1: number;
  /** Harmonic active power P − P1: negative where the load sends harmonics back. */
  PH: number;
  /** Non-fundamental apparent power √(S² − S1²). */
  SN: number;
  /** Current, voltage distortion power; harmonic apparent and harmonic distortion power. */
  DI: number;
  DV: number;
  SH: number;
  DH: number;
  THDV: number;
  THDI: number;
}

/** A record to be filled again and again. */
export function emptyPower1459(): Power1459 {
  return {
    V: NaN,
    I: NaN,
    P: NaN,
    S: NaN,
    N: NaN,
    PF: NaN,
    V1: NaN,
    I1: NaN,
    P1: NaN,
    Q1: NaN,
    S1: NaN,
    PF1: NaN,
    PH: NaN,
    SN: NaN,
    DI: NaN,
    DV: NaN,
    SH: NaN,
    DH: NaN,
    THDV: NaN,
    THDI: NaN,
  };
}

/**
 * Fills `out` from two lists of phasors of equal length. The sums V, I and P are taken over the
 * phasors, or from `whole` where the waveform carries more than they do (noise, interharmonics).
 * In THDV and THDI of IEEE 1459 "harmonic" is everything but the fundamental, direct component
 * included: √(V² − V1²)/V1.
 */
export function power1459(
  volts: Phasors,
  amps: Phasors,
  whole: WholePower | null = null,
  out: Power1459 = emptyPower1459(),
): Power1459 {
  const v1re = volts.re[1]!;
  const v1im = volts.im[1]!;
  const i1re = amps.re[1]!;
  const i1im = amps.im[1]!;
  let vSquares = 0.0;
  let iSquares = 0.0;
  let watts = 0.0;
  if (whole === null) {
    for (let h = 0; h < volts.re.length; h++) {
      vSquares += volts.re[h]! ** 2 + volts.im[h]! ** 2;
      iSquares += amps.re[h]! ** 2 + amps.im[h]! ** 2;
      watts += volts.re[h]! * amps.re[h]! + volts.im[h]! * amps.im[h]!;
    }
  } else {
    vSquares = whole.volts ** 2;
    iSquares = whole.amps ** 2;
    watts = whole.watts;
  }
  out.V = Math.sqrt(vSquares);
  out.I = Math.sqrt(iSquares);
  out.P = watts;
  out.V1 = Math.hypot(v1re, v1im);
  out.I1 = Math.hypot(i1re, i1im);
  // S1 = V1·conj(I1): current that lags gives a positive Q1, whatever the reference instant.
  out.P1 = v1re * i1re + v1im * i1im;
  out.Q1 = v1im * i1re - v1re * i1im;
  return derive(out);
}

/** The quantities that follow from V, I, P, V1, I1, P1, Q1. */
function derive(out: Power1459): Power1459 {
  out.S = out.V * out.I;
  out.N = rootOfDifference(out.S, out.P);
  out.PF = out.S > 0 ? out.P / out.S : NaN;
  out.S1 = out.V1 * out.I1;
  out.PF1 = out.S1 > 0 ? out.P1 / out.S1 : NaN;
  out.PH = out.P - out.P1;
  const VH = rootOfDifference(out.V, out.V1);
  const IH = rootOfDifference(out.I, out.I1);
  out.DI = out.V1 * IH;
  out.DV = VH * out.I1;
  out.SH = VH * IH;
  out.DH = rootOfDifference(out.SH, out.PH);
  // By its three parts rather than √(S² − S1²): no cancellation where distortion is slight.
  out.SN = Math.hypot(out.DI, out.DV, out.SH);
  out.THDV = out.V1 > 0 ? VH / out.V1 : NaN;
  out.THDI = out.I1 > 0 ? IH / out.I1 : NaN;
  return out;
}

/** √(a² − b²), nil where rounding leaves b the larger. */
function rootOfDifference(a: number, b: number): number {
  return Math.sqrt(Math.max(0, (a - b) * (a + b)));
}
