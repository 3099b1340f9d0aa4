/** Figures in sentences: as many digits as a person at the machine can use. */
export interface Figures {
  /** One decimal under 20 V and where a whole volt would hide which side of `beside` it is. */
  volts(value: number, beside?: number): string;
  amps(value: number): string;
  /** Of a part of one. */
  percent(fraction: number, digits?: number): string;
  seconds(value: number): string;
  fixed(value: number, digits: number): string;
  /** As it was given, with the language's own decimal sign. */
  given(value: number): string;
  /** As people write it: "12 AWG", "1/0 AWG", "250 kcmil", "2.5 mm²". */
  gauge(of: Gauge): string;
  /** In the unit it was given in. */
  length(of: Length): string;
}

export interface Gauge {
  awg?: number | string | undefined;
  kcmil?: number | undefined;
  mm2?: number | undefined;
}
export interface Length {
  feet?: number | undefined;
  metres?: number | undefined;
}

/** How a language writes figures that stand in its sentences. */
export function figuresWith(decimalSign: '.' | ','): Figures {
  const fixed = (value: number, digits: number) => value.toFixed(digits).replace('.', decimalSign);
  const given = (value: number) => String(value).replace('.', decimalSign);
  return {
    fixed,
    given,
    volts(value, beside) {
      const close = beside !== undefined && Math.abs(value - beside) < 1.5;
      return `${fixed(value, close || Math.abs(value) < 20 ? 1 : 0)} V`;
    },
    amps: (value) => `${fixed(value, value < 10 ? 1 : 0)} A`,
    percent: (fraction, digits = 1) => `${fixed(fraction * 100, digits)} %`,
    seconds: (value) => `${fixed(value, value < 10 ? 2 : 0)} s`,
    gauge({ mm2, kcmil, awg }) {
      if (mm2 !== undefined) return `${given(mm2)} mm²`;
      return kcmil === undefined ? `${awg ?? '?'} AWG` : `${kcmil} kcmil`;
    },
    length: ({ metres, feet }) =>
      metres !== undefined ? `${given(metres)} m` : `${given(feet ?? 0)} ft`,
  };
}
