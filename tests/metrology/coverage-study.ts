import type { SupplyEstimate } from '../../shared/metrology/supply-estimate.ts';
import { SupplyEstimator } from '../../shared/metrology/supply-estimator.ts';
import { playRows, quietScene, type RowScene, uniform } from './supply-model.ts';

/** One condition of the study: what it changes of an ordinary shop's supply, and how many arcs. */
export interface Condition {
  name: string;
  arcs: number;
  arcS: number;
  idleS: number;
  change: (u: () => number, volts: number) => Partial<RowScene>;
  /** Neighbours' steps a minute, each up to this part of the voltage. */
  neighbours?: { perMinute: number; part: number };
}

export interface Covered {
  name: string;
  runs: number;
  told: number;
  insideR: number;
  insideX: number;
  /** Medians of half-widths: of R in parts of R, of X in ohms. */
  widthR: number;
  widthX: number;
}

/** A circuit as shops have them (common practice, no source: 120 V 0.2–0.8 Ω, 240 V 0.08–0.35 Ω,
 * X 0.02–0.10 Ω), and what the condition does to it. */
function shopOf(seed: number, condition: Condition): RowScene {
  const u = uniform(seed * 7919 + 13);
  const low = u() < 0.4;
  const volts = low ? 120 : 240;
  const scene: RowScene = {
    ...quietScene,
    seed,
    hertz: u() < 0.7 ? 60 : 50,
    volts,
    ohmsR: low ? 0.2 + 0.6 * u() : 0.08 + 0.27 * u(),
    ohmsX: 0.02 + 0.08 * u(),
    arcAmps: low ? 12 + 10 * u() : 18 + 16 * u(),
    lagRadians: -0.2 + 0.4 * u(),
    ripple: 0.02,
    white: 0.0002,
    walk: 0,
    phaseWhite: 0.0002,
    phaseWalk: 0.0001,
    drift: 0,
    exponent: 0,
    idleAmps: u() < 0.3 ? 0 : u(),
    lateS: 0.05 + 0.4 * u(),
    heating: 0,
    arcs: [],
    others: [],
    ...condition.change(u, volts),
  };
  let at = condition.idleS * (0.7 + 0.6 * u());
  for (let k = 0; k < condition.arcs; k++) {
    const end = at + condition.arcS * (0.7 + 0.6 * u());
    scene.arcs.push([at, end]);
    at = end + condition.idleS * (0.7 + 0.6 * u());
  }
  scene.seconds = at;
  const { neighbours } = condition;
  if (neighbours) {
    let on = false;
    for (let t = 0; ; ) {
      t -= (60 / neighbours.perMinute) * Math.log(1 - u());
      if (t > at) break;
      scene.others.push([t, (on ? 1 : -1) * neighbours.part * volts * (0.3 + 0.7 * u())]);
      on = !on;
    }
  }
  return scene;
}

/** One drawn supply: what was told of it, and what it was. */
export interface Drawn {
  estimate: SupplyEstimate | null;
  ohmsR: number;
  ohmsX: number;
}

/** Rows in closed form, and arcs told as late as a detector does. */
export function drawRows(seed: number, condition: Condition): Drawn {
  const scene = shopOf(seed, condition);
  const { rateHz, hertz } = scene;
  const nominalHertz = hertz as 50 | 60;
  const estimator = new SupplyEstimator({ rateHz, pairs: 1, nominalHertz, pair: 0 });
  const { ohmsR } = playRows(scene, estimator);
  return { estimate: estimator.estimate(), ohmsR, ohmsX: scene.ohmsX };
}

/** How often the 95 % intervals hold what was true, over `seeds` draws from seed `from` on. */
export function coverOf(
  name: string,
  draw: (seed: number) => Drawn,
  seeds: number,
  from = 1,
): Covered {
  const widthsR: number[] = [];
  const widthsX: number[] = [];
  let insideR = 0;
  let insideX = 0;
  for (let seed = from; seed < from + seeds; seed++) {
    const { estimate, ohmsR, ohmsX } = draw(seed);
    if (estimate === null) continue;
    const { ohmsR95, ohmsX95 } = estimate;
    if (ohmsR95[0] <= ohmsR && ohmsR <= ohmsR95[1]) insideR++;
    if (ohmsX95[0] <= ohmsX && ohmsX <= ohmsX95[1]) insideX++;
    widthsR.push((ohmsR95[1] - ohmsR95[0]) / 2 / ohmsR);
    widthsX.push((ohmsX95[1] - ohmsX95[0]) / 2);
  }
  const told = widthsR.length;
  return {
    name,
    runs: seeds,
    told,
    insideR: insideR / told,
    insideX: insideX / told,
    widthR: median(widthsR),
    widthX: median(widthsX),
  };
}

const median = (values: number[]): number => values.sort((a, b) => a - b)[values.length >> 1]!;

const walk = (voltsPerHalf: number) => (_u: () => number, volts: number) => ({
  walk: (voltsPerHalf * Math.SQRT2) / volts,
});
const evening = { arcs: 12, arcS: 2, idleS: 1.5 };

export const conditions: readonly Condition[] = [
  ...[0, 0.02, 0.05, 0.1].flatMap((volts): Condition[] => [
    { name: `drift ${volts} V a half cycle, 12 arcs`, ...evening, change: walk(volts) },
    { name: `drift ${volts}, 5 arcs of 4 s`, arcs: 5, arcS: 4, idleS: 4, change: walk(volts) },
    { name: `drift ${volts}, one arc`, arcs: 1, arcS: 2, idleS: 1.5, change: walk(volts) },
    { name: `drift ${volts}, two tacks`, arcs: 2, arcS: 0.4, idleS: 0.5, change: walk(volts) },
  ]),
  {
    name: 'one tack of 0.4 s between 0.15 s of idle',
    arcs: 1,
    arcS: 0.4,
    idleS: 0.15,
    change: walk(0.03),
  },
  {
    name: 'drift 0.05, flutter of 10 %, constant power',
    ...evening,
    change: (u, volts) => ({ ...walk(0.05)(u, volts), ripple: 0.1 }),
  },
  {
    name: 'drift 0.05, flutter of 1 %, constant power, one arc of 8 s',
    arcs: 1,
    arcS: 8,
    idleS: 2,
    change: (u, volts) => ({ ...walk(0.05)(u, volts), ripple: 0.01 }),
  },
  {
    name: 'drift 0.05, constant impedance',
    ...evening,
    change: (u, volts) => ({ ...walk(0.05)(u, volts), exponent: 2 }),
  },
  {
    name: "neighbours' steps, 6 a minute",
    ...evening,
    change: walk(0.02),
    neighbours: { perMinute: 6, part: 0.015 },
  },
  {
    name: "neighbours' steps, 20 a minute",
    ...evening,
    change: walk(0.02),
    neighbours: { perMinute: 20, part: 0.015 },
  },
  {
    name: "neighbours' steps, 6 a minute, one arc",
    arcs: 1,
    arcS: 2,
    idleS: 1.5,
    change: walk(0.02),
    neighbours: { perMinute: 6, part: 0.015 },
  },
  {
    name: 'white noise of 0.1 %',
    ...evening,
    change: () => ({ white: 0.001, phaseWhite: 0.0005 }),
  },
  {
    name: 'a wire that warms, long arcs',
    arcs: 5,
    arcS: 8,
    idleS: 4,
    change: (u, volts) => ({ ...walk(0.02)(u, volts), heating: 0.0012 * u() }),
  },
];

/** A row of the table. */
export function lineOf(row: Covered): string {
  const part = (value: number) => `${(100 * value).toFixed(1)} %`;
  const told = `${row.told}/${row.runs}`.padStart(9);
  const r = `R ${part(row.insideR)} ± ${part(row.widthR)}`;
  const x = `X ${part(row.insideX)} ± ${(1000 * row.widthX).toFixed(1)} mΩ`;
  return `${row.name.padEnd(60)}${told}  ${r}  ${x}`;
}
