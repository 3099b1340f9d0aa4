/**
 * A plan of 40 machines on 60 circuits for 60 needs, best of five rounds for each of three shops:
 * few machines do much; many do a little; and of ten kinds four each that tie in every way.
 * `npx tsx tests/bench/planning.ts [--json]`
 */
import { cpus } from 'node:os';
import type { Machine, Need, PlannedCircuit } from '../../shared/protocol/planning.ts';
import { plan } from '../../shared/rules/planning.ts';

const rounds = 5;
const wires = [0.023, 0.03, 0.035, 0.039, 0.045, 0.047, 0.052, 0.0625];

/** Park–Miller: the same shops every time. */
function chance(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

function machines(next: () => number, share: number, kinds: number): Machine[] {
  const kind = Array.from({ length: kinds }, () => wires.filter(() => next() < share));
  return Array.from({ length: 40 }, (_, index) => ({
    name: `machine ${index}`,
    phases: 1,
    supply: [{ U1: 240, I1max: 20 + (index % kinds), I1eff: 14 }],
    ratings: [{ X: 0.4, I2: 120 + 10 * (index % kinds), U2: 22 }],
    pulse: index % kinds < kinds / 2,
    wireInches: kind[index % kinds]!,
    price: 3000,
    processes: ['mig-steel', 'mig-aluminium', 'mig-braze'],
  }));
}

const circuits = (next: () => number): PlannedCircuit[] =>
  Array.from({ length: 60 }, (_, index) => ({
    name: `circuit ${index}`,
    volts: 240,
    breakerAmps: 50,
    branch: { awg: 8, feet: 20 + Math.round(130 * next()) },
    cords: [{ awg: 10, feet: 25 + Math.round(75 * next()) }],
  }));

const needs = (next: () => number): Need[] =>
  Array.from({ length: 60 }, (_, index) => ({
    name: `need ${index}`,
    process: next() < 0.5 ? 'mig-steel' : 'mig-aluminium',
    wireInches: wires[index % wires.length]!,
    minAmps: 100 + Math.round(80 * next()),
  }));

/** Beside the clock the processor's own time: a busy machine's clock tells of its neighbours. */
function timed(work: () => void): { ms: number; cpuMs: number } {
  const start = performance.now();
  const used = process.cpuUsage();
  work();
  const { user, system } = process.cpuUsage(used);
  return { ms: performance.now() - start, cpuMs: (user + system) / 1_000 };
}

function main(): void {
  const shops = [
    { name: 'much each', share: 0.6, kinds: 40 },
    { name: 'little each', share: 0.2, kinds: 40 },
    { name: 'ties', share: 0.2, kinds: 10 },
  ];
  const results = shops.map(({ name, share, kinds }, seed) => {
    const next = chance(seed + 7);
    const lists = [machines(next, share, kinds), circuits(next), needs(next)] as const;
    const times = Array.from({ length: rounds }, () => timed(() => plan(...lists)));
    const first = times[0]!;
    const made = plan(...lists);
    const uncovered = made.uncovered.length;
    return {
      name,
      ms: Math.min(...times.map(({ ms }) => ms)),
      firstMs: first.ms,
      firstCpuMs: first.cpuMs,
      set: made.smallestSet.machines.length,
      uncovered,
    };
  });
  const machine = `${cpus()[0]?.model}, Node ${process.version}`;
  if (process.argv.includes('--json')) {
    process.stdout.write(`${JSON.stringify({ subject: 'planning', machine, results })}\n`);
    return;
  }
  process.stdout.write(
    `${machine}\n40 × 60 × 60: best ms, first ms, first CPU ms; machines in the set; uncovered\n`,
  );
  for (const { name, ms, firstMs, firstCpuMs, set, uncovered } of results) {
    const columns = [ms, firstMs, firstCpuMs].map((each) => each.toFixed(0).padStart(6));
    const rest = [set, uncovered].map((each) => String(each).padStart(4));
    process.stdout.write(`${name.padEnd(12)} ${[...columns, ...rest].join(' ')}\n`);
  }
}

main();
