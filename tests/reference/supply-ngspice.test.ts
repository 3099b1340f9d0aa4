import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { Meter } from '../../shared/metrology/meter.ts';
import { SupplyEstimator } from '../../shared/metrology/supply-estimator.ts';

const ngspice = '/usr/bin/ngspice';
const rateHz = 10_240;
const seconds = 2.6;
const arcs = [
  [0.5, 1.1],
  [1.6, 2.1],
] as const;

interface Bench {
  volts: number;
  hertz: 50 | 60;
  ohmsR: number;
  ohmsX: number;
  loadOhms: number;
  farads: number;
}

/** A source behind R and L feeds a bridge with a capacitor; a switch puts the arc behind it. */
function netlist({ volts, hertz, ohmsR, ohmsX, loadOhms, farads }: Bench): string {
  const peak = volts * Math.SQRT2;
  const switched = arcs.flatMap(([a, b]) => [`${a} 0 ${a + 1e-4} 1`, `${b} 1 ${b + 1e-4} 0`]);
  return `supply and rectifier
V1 e 0 SIN(0 ${peak} ${hertz})
R1 e n ${ohmsR}
L1 n v ${ohmsX / (2 * Math.PI * hertz)}
D1 v p bridge
D2 0 p bridge
D3 m v bridge
D4 m 0 bridge
C1 p m ${farads} ic=${0.97 * peak}
Ridle p m 600
S1 p q c 0 arc
* the far side floats but for its leakage
Rp p 0 1e5
Rm m 0 1e5
Rarc q m ${loadOhms}
Vc c 0 PWL(0 0 ${switched.join(' ')})
.model bridge D(Is=1e-9 Rs=0.01 N=1.5 Cjo=1e-9)
.model arc SW(Vt=0.5 Vh=0.1 Ron=0.001 Roff=1e6)
.options reltol=1e-4
.control
save v(v) i(L1)
tran ${1 / rateHz} ${seconds} 0 4e-5 uic
linearize v(v) i(L1)
set wr_singlescale
wrdata out v(v) i(L1)
quit
.endc
.end
`;
}

function simulate(bench: Bench): [Float64Array, Float64Array] {
  const folder = mkdtempSync(join(tmpdir(), 'supply-'));
  try {
    const deck = join(folder, 'bench.cir');
    writeFileSync(deck, netlist(bench));
    execFileSync(ngspice, ['-b', deck], { cwd: folder, stdio: 'ignore', timeout: 100_000 });
    const lines = readFileSync(join(folder, 'out'), 'utf8').trim().split('\n');
    const rows = lines.map((line) => line.trim().split(/\s+/).map(Number));
    return [Float64Array.from(rows, (row) => row[1]!), Float64Array.from(rows, (row) => row[2]!)];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

describe.skipIf(!existsSync(ngspice))(
  'supply of an ngspice circuit (skipped without ngspice)',
  () => {
    test.each<Bench>([
      { volts: 120, hertz: 60, ohmsR: 0.4, ohmsX: 0.05, loadOhms: 12, farads: 2e-3 },
      { volts: 230, hertz: 50, ohmsR: 0.15, ohmsX: 0.08, loadOhms: 25, farads: 1e-3 },
    ])('$volts V behind $ohmsR + j$ohmsX Ω feeding a rectifier', (bench) => {
      const [v, i] = simulate(bench);
      expect(v.length).toBeGreaterThan(rateHz * seconds - 2);
      const estimator = new SupplyEstimator({
        rateHz,
        pairs: 1,
        nominalHertz: bench.hertz,
        pair: 0,
      });
      const marks = arcs.flat();
      let told = 0;
      const meter = new Meter(
        { rateHz, pairs: 1, nominalHertz: null, phasors: true },
        {
          halfCycle: (row) => {
            estimator.halfCycle(row);
            // The detector of an instrument would be this late.
            if (!(row.end > (marks[told]! + 0.2) * rateHz)) return;
            const at = marks[told]! * rateHz;
            if (told++ % 2 === 0) estimator.arcBegan(at);
            else estimator.arcEnded(at);
          },
        },
      );
      meter.push([v, i], v.length);
      meter.end();
      const estimate = estimator.estimate()!;
      expect(estimate.steps).toBe(4);
      expect(estimate.largestStepAmps).toBeGreaterThan(8);
      // A rectifier's current, and yet R to 1 % and X to 1 mΩ of what was drawn into the circuit.
      expect(estimate.fundamentalShare).toBeLessThan(0.9);
      expect(Math.abs(estimate.ohmsR / bench.ohmsR - 1)).toBeLessThan(0.01);
      expect(Math.abs(estimate.ohmsX - bench.ohmsX)).toBeLessThan(0.001);
      expect(Math.abs(estimate.openVolts / bench.volts - 1)).toBeLessThan(0.001);
      expect(estimate.ohmsR95[0]).toBeLessThan(bench.ohmsR);
      expect(estimate.ohmsR95[1]).toBeGreaterThan(bench.ohmsR);
    });
  },
);
