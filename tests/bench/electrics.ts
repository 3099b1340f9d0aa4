/**
 * How fast the simulated shop runs, and what four live points take of a core; beside it ngspice on
 * the plainest of the circuits (source, wire, bridge, capacitor, constant power).
 * `npx tsx tests/bench/electrics.ts [--json]`
 */
import { spawnSync } from 'node:child_process';
import { cpus } from 'node:os';
import { createPlant, scenarioByName } from '../../simulator/electrics/index.ts';

const rounds = 3;
const seconds = 60;
const block = 1024;

/** Processor seconds that `work` took, the best of some rounds. */
function best(work: () => void): number {
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const before = process.cpuUsage();
    work();
    const { user, system } = process.cpuUsage(before);
    least = Math.min(least, (user + system) / 1e6);
  }
  return least;
}

function simulate(scenario: string, only: string[]): void {
  const { points } = createPlant(scenarioByName(scenario)!, 1, only);
  const into = new Int32Array(block * 6);
  for (let frame = 0; frame < seconds * 10_240; frame += block) {
    for (const point of points) point.read(into, block);
  }
}

/** The same seconds of one bridge on one wire; null where ngspice is absent. */
function spice(): number | null {
  const netlist = `* capacitor input
V1 src 0 SIN(0 339.4 60)
R1 src a 0.12
L1 a p 118u
D1 p dp DI
D2 0 dp DI
D3 dn p DI
D4 dn 0 DI
C1 dp dn 1.5m IC=300
BL dp dn I=5000/max(V(dp,dn),50)
Rg dn 0 1e7
.model DI D(IS=2.3e-14 N=1 RS=10m)
.options method=gear maxord=2 reltol=1e-3 abstol=1e-4 vntol=1e-3 chgtol=1e-9
.control
tran 24.4u 6 5.9 24.4u uic
quit
.endc
.end
`;
  let least = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const start = process.hrtime.bigint();
    if (spawnSync('ngspice', ['-b'], { input: netlist }).status !== 0) return null;
    least = Math.min(least, Number(process.hrtime.bigint() - start) / 1e9);
  }
  return 6 / least;
}

const rows = [
  { what: 'one pair, corrected inverter', scenario: 'harbour-lane', only: ['bay-2'] },
  { what: 'one pair, capacitor input, outlet', scenario: 'harbour-lane', only: ['bay-1-outlet'] },
  {
    what: 'one circuit, both ends',
    scenario: 'harbour-lane',
    only: ['bay-1-outlet', 'bay-1-machine'],
  },
  { what: 'one pair, generator', scenario: 'harbour-lane', only: ['yard'] },
  { what: 'two pairs, split phase', scenario: 'open-neutral', only: ['bay'] },
  { what: 'three pairs, six diodes', scenario: 'harbour-lane', only: ['bench'] },
].map((row) => {
  simulate(row.scenario, row.only);
  return { ...row, timesRealTime: seconds / best(() => simulate(row.scenario, row.only)) };
});
const four = best(() => simulate('harbour-lane', ['bay-1-machine', 'bay-2', 'bench', 'yard']));
const result = {
  cpu: cpus()[0]?.model,
  node: process.version,
  rows,
  fourPointsOfACore: four / seconds,
  ngspiceTimesRealTime: spice(),
};

if (process.argv.includes('--json')) console.log(JSON.stringify(result));
else {
  console.log(`${result.cpu}, Node ${result.node}; best of ${rounds}, processor time`);
  for (const { what, timesRealTime } of rows) {
    console.log(`${what.padEnd(36)} ${timesRealTime.toFixed(0).padStart(5)} × real time`);
  }
  const spiced = result.ngspiceTimesRealTime;
  console.log(`ngspice, one bridge${' '.repeat(17)} ${spiced?.toFixed(1) ?? 'absent'} × real time`);
  console.log(`four live points: ${(100 * result.fourPointsOfACore).toFixed(1)} % of a core`);
}
