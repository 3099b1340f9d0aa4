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

function main(): void {
  const shops = [
    { name: 'much each', share: 0.6, kinds: 40 },
    { name: 'little each', share: 0.2, kinds: 40 },
    { name: 'ties', share: 0.2, kinds: 10 },
  ];
  const results = shops.map(({ name, share, kinds }, seed) => {
    const next = chance(seed + 7);
    const lists = [machines(next, share, kinds), circuits(next), needs(next)] as const;
    const ms = Array.from({ length: rounds }, () => {
      const start = performance.now();
      plan(...lists);
      return performance.now() - start;
    });
    const made = plan(...lists);
    const uncovered = made.uncovered.length;
    return {
      name,
      ms: Math.min(...ms),
      first: ms[0]!,
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
    `${machine}\n40 × 60 × 60: best ms, first ms; machines in the set; uncovered\n`,
  );
  for (const { name, ms, first, set, uncovered } of results)
    process.stdout.write(
      `${name.padEnd(12)} ${ms.toFixed(0).padStart(6)} ${first.toFixed(0).padStart(6)} ` +
        `${String(set).padStart(4)} ${String(uncovered).padStart(4)}\n`,
    );
}

main();
