import { blankRow, type HalfCycleRow, type HalfCycleSink } from '../../shared/metrology/row.ts';

/** Seeded, uniform in 0 … 1 (mulberry32). */
export function uniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function gauss(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** A supply, its restless background, and a welder's arcs, half cycle by half cycle. */
export interface RowScene {
  seed: number;
  rateHz: number;
  hertz: number;
  volts: number;
  ohmsR: number;
  ohmsX: number;
  idleAmps: number;
  arcAmps: number;
  /** Angle by which the arc's fundamental lags. */
  lagRadians: number;
  /** Relative scatter from cycle to cycle of the arc's current, and how slowly it moves. */
  ripple: number;
  /** Parts of the voltage: white scatter a cycle, random walk a cycle; and rad a cycle. */
  white: number;
  walk: number;
  phaseWhite: number;
  phaseWalk: number;
  /** Steady drift of the background, part of the voltage a second. */
  drift: number;
  /** P ∝ V^exponent of the machine. */
  exponent: number;
  /** Seconds: begin and end of each arc. */
  arcs: [number, number][];
  seconds: number;
  /** When and by how many volts another load moves the supply. */
  others: [number, number][];
  /** How late the detector tells, s. */
  lateS: number;
  /** Whether the wire warms: part of R gained a second of arc. */
  heating: number;
  /** R at a moment, where a contact changes it; `burningS` since the arc began, 0 with none. */
  ohmsAt?: (seconds: number, burningS: number) => number;
}

export const quietScene: RowScene = {
  seed: 1,
  rateHz: 10_240,
  hertz: 60,
  volts: 240,
  ohmsR: 0.3,
  ohmsX: 0.05,
  idleAmps: 0.4,
  arcAmps: 25,
  lagRadians: 0.1,
  ripple: 0.03,
  white: 0.0002,
  walk: 0.0002,
  phaseWhite: 0.0002,
  phaseWalk: 0.0002,
  drift: 0,
  exponent: 0,
  arcs: [[1, 3]],
  seconds: 4,
  others: [],
  lateS: 0.25,
  heating: 0,
};

interface ArcSink extends HalfCycleSink {
  arcBegan(at: number): void;
  arcEnded(at: number): void;
}

/** Plays the scene as rows and arc events; returns R and E as they are at the end. */
export function playRows(scene: RowScene, sink: ArcSink): { ohmsR: number; openVolts: number } {
  const random = uniform(scene.seed);
  const row = blankRow(1);
  const half = scene.rateHz / scene.hertz / 2;
  const events: [number, 'arcBegan' | 'arcEnded', number][] = scene.arcs.flatMap(([a, b]) => [
    [a + scene.lateS, 'arcBegan', a * scene.rateHz],
    [b + scene.lateS, 'arcEnded', b * scene.rateHz],
  ]);
  let told = 0;
  let ohmsR = scene.ohmsR;
  let level = 0;
  let phase = random() * 6;
  let slow = 0;
  let openVolts = scene.volts;
  for (let n = 0; n < scene.seconds * scene.hertz * 2; n++) {
    const end = (n + 2) * half;
    const middle = (n + 1) * half;
    const seconds = middle / scene.rateHz;
    level += scene.walk * gauss(random) * Math.SQRT1_2;
    phase += scene.phaseWalk * gauss(random) * Math.SQRT1_2;
    slow += -0.05 * slow + 0.3 * gauss(random);
    const white = n % 2 === 0 ? scene.white * gauss(random) : 0;
    const phaseWhite = n % 2 === 0 ? scene.phaseWhite * gauss(random) : 0;
    openVolts = scene.volts * (1 + level + scene.drift * seconds);
    let open = openVolts + scene.volts * white;
    for (const [at, step] of scene.others) if (seconds > at) open += step;
    const arc = scene.arcs.find(([a, b]) => seconds > a && seconds < b);
    if (arc) ohmsR += (scene.ohmsR * scene.heating * half) / scene.rateHz;
    if (scene.ohmsAt) ohmsR = scene.ohmsAt(seconds, arc ? seconds - arc[0] : 0);
    const wanted = arc
      ? scene.arcAmps * (1 + (scene.ripple * (slow + gauss(random))) / 1.5)
      : scene.idleAmps;
    writeRow(scene, row, n, open, phase + phaseWhite, wanted, ohmsR, arc !== undefined);
    row.start = end - 2 * half;
    row.middle = middle;
    row.end = end;
    sink.halfCycle(row);
    while (told < events.length && events[told]![0] * scene.rateHz <= end) {
      const [, call, at] = events[told++]!;
      sink[call](at);
    }
  }
  for (; told < events.length; told++) sink[events[told]![1]](events[told]![2]);
  return { ohmsR, openVolts };
}

function writeRow(
  scene: RowScene,
  row: HalfCycleRow,
  n: number,
  open: number,
  phase: number,
  wanted: number,
  ohmsR: number,
  inArc: boolean,
): void {
  // Relative to the voltage at the load: V real, then turned so that E has the given phase.
  let volts = open;
  let amps = wanted;
  for (let pass = 0; pass < 6; pass++) {
    amps = inArc ? wanted * (volts / scene.volts) ** (scene.exponent - 1) : wanted;
    const along = amps * Math.cos(scene.lagRadians);
    const across = amps * Math.sin(scene.lagRadians);
    const turned = scene.ohmsX * along - ohmsR * across;
    volts = Math.sqrt(open * open - turned * turned) - ohmsR * along - scene.ohmsX * across;
  }
  const along = amps * Math.cos(scene.lagRadians);
  const across = amps * Math.sin(scene.lagRadians);
  const behind = Math.asin((scene.ohmsX * along - ohmsR * across) / open);
  const angle = phase - behind;
  row.index = n;
  row.hertz = scene.hertz;
  row.locked = true;
  row.urms[0] = volts;
  row.irms[0] = amps * 1.2;
  row.watts[0] = volts * along;
  // The window starts at a zero of an undisturbed sine, every half cycle: the sign alternates.
  const sign = n % 2 === 0 ? 1 : -1;
  row.u1re[0] = sign * volts * Math.cos(angle);
  row.u1im[0] = sign * volts * Math.sin(angle);
  row.i1re[0] = sign * (along * Math.cos(angle) + across * Math.sin(angle));
  row.i1im[0] = sign * (along * Math.sin(angle) - across * Math.cos(angle));
}
