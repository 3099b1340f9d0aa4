import { gaussian } from './synth.ts';

/** R.m.s. phasor: volts or amperes, and radians. */
export type Phasor = readonly [size: number, angle: number];

/** Where a machine hangs: between a line and the neutral, two lines, or on all three. */
export type Hangs =
  | { kind: 'line'; line: number }
  | { kind: 'lines'; one: number; other: number }
  | { kind: 'three' };

/**
 * A service by its wires, in the closed form of sines: an e.m.f. a line against the neutral, R + jX
 * a line, R of the neutral, and a machine whose current is a sine. Nothing here is the project's
 * own electrics.
 */
export interface Wires {
  rateHz: number;
  hertz: number;
  seconds: number;
  /** What each pair is led to, against the neutral; a line may stand here twice. */
  emfs: readonly Phasor[];
  ohmsR: number;
  ohmsX: number;
  neutralOhms: number;
  hangs: Hangs;
  /** R.m.s. of a line while an arc burns, and its lag behind the voltage that drives it. */
  amps: number;
  lag: number;
  idleAmps: number;
  arcs: readonly { startS: number; endS: number }[];
  noiseVolts: number;
  noiseAmps: number;
}

export const degrees = (angle: number): number => (angle * Math.PI) / 180;

const re = ([size, angle]: Phasor) => size * Math.cos(angle);
const im = ([size, angle]: Phasor) => size * Math.sin(angle);
const polar = (x: number, y: number): Phasor => [Math.hypot(x, y), Math.atan2(y, x)];
export const minus = (a: Phasor, b: Phasor): Phasor => polar(re(a) - re(b), im(a) - im(b));
const plus = (a: Phasor, b: Phasor): Phasor => polar(re(a) + re(b), im(a) + im(b));
const times = ([a, p]: Phasor, [b, q]: Phasor): Phasor => [a * b, p + q];

/** Current in each line with `amps` drawn. */
function currents({ emfs, hangs, lag }: Wires, amps: number): Phasor[] {
  const none: Phasor = [0, 0];
  const driven = ([, angle]: Phasor): Phasor => [amps, angle - lag];
  if (hangs.kind === 'three') {
    // Along the lines' voltages to their own centre, wherever the neutral lies.
    const centre = emfs.reduce<Phasor>((sum, each) => plus(sum, [each[0] / 3, each[1]]), none);
    return emfs.map((each) => driven(minus(each, centre)));
  }
  if (hangs.kind === 'line') return emfs.map((each, k) => (k === hangs.line ? driven(each) : none));
  const there = driven(minus(emfs[hangs.one]!, emfs[hangs.other]!));
  const back: Phasor = [there[0], there[1] + Math.PI];
  return emfs.map((_, k) => (k === hangs.one ? there : k === hangs.other ? back : none));
}

/** Of every pair, volts and amperes with `amps` drawn. */
function atPairs(wires: Wires, amps: number): { volts: Phasor; amps: Phasor }[] {
  const { emfs, ohmsR, ohmsX, neutralOhms } = wires;
  const of = currents(wires, amps);
  const neutral = of.reduce<Phasor>(plus, [0, 0]);
  return emfs.map((emf, k) => {
    const line = times(of[k]!, polar(ohmsR, ohmsX));
    return { volts: minus(minus(emf, line), times(neutral, [neutralOhms, 0])), amps: of[k]! };
  });
}

/** Volts between the machine's terminals with `amps` drawn: of three loops the lowest. */
export function terminalVolts(wires: Wires, amps: number): number {
  const volts = atPairs(wires, amps).map((each) => each.volts);
  const { hangs } = wires;
  if (hangs.kind === 'line') return volts[hangs.line]![0];
  if (hangs.kind === 'lines') return minus(volts[hangs.one]!, volts[hangs.other]!)[0];
  return Math.min(...volts.map((each, k) => minus(each, volts[(k + 1) % 3]!)[0]));
}

/** Samples v1, i1, v2, i2, … */
export function sampled(wires: Wires, seed: number): Float64Array[] {
  const { rateHz, hertz, seconds, arcs, noiseVolts, noiseAmps, idleAmps } = wires;
  const frames = Math.round(seconds * rateHz);
  const burning = (t: number) => arcs.some(({ startS, endS }) => t >= startS && t < endS);
  const [idle, loaded] = [atPairs(wires, idleAmps), atPairs(wires, wires.amps)];
  const noise = gaussian(seed);
  return wires.emfs.flatMap((_, k) => {
    const column = (what: 'volts' | 'amps', sd: number) =>
      Float64Array.from({ length: frames }, (_, n) => {
        const t = n / rateHz;
        const [size, angle] = (burning(t) ? loaded : idle)[k]![what];
        return Math.SQRT2 * size * Math.cos(2 * Math.PI * hertz * t + angle) + sd * noise();
      });
    return [column('volts', noiseVolts), column('amps', noiseAmps)];
  });
}
