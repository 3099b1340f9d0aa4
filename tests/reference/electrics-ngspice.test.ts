import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Arc } from '../../simulator/electrics/arc.ts';
import { stepS, stepsPerSecond } from '../../simulator/electrics/clockwork.ts';
import { Ladder, outlet, panel, terminals } from '../../simulator/electrics/ladder.ts';
import { BridgeLink } from '../../simulator/electrics/machines/bridge-link.ts';
import {
  Connected,
  type OnePort,
  type Terminals,
  type WeldingMachine,
} from '../../simulator/electrics/machines/machine.ts';
import { SixPulse } from '../../simulator/electrics/machines/six-pulse.ts';
import { TransformerRectifier } from '../../simulator/electrics/machines/transformer-rectifier.ts';
import { Branch } from '../../simulator/electrics/neighbour.ts';

/**
 * The same circuits, once stepped by the simulator's ladder and once by ngspice from a netlist
 * written here: r.m.s., peak, power and odd harmonics over six whole cycles of the steady state.
 */
const hertz = 60;
const omega = 2 * Math.PI * hertz;
const cycles = 6;
const hasSpice = spawnSync('ngspice', ['--version']).status === 0;

interface Figures {
  volts: number;
  amps: number;
  peakAmps: number;
  watts: number;
  /** R.m.s. of the current's fundamental and 3rd, 5th, 7th, 9th. */
  harmonics: number[];
}

function figuresOf(volts: number[], amps: number[]): Figures {
  const n = volts.length;
  const mean = (of: (at: number) => number): number => {
    let sum = 0;
    for (let at = 0; at < n; at++) sum += of(at);
    return sum / n;
  };
  const harmonic = (order: number): number => {
    const angle = (at: number): number => (2 * Math.PI * order * cycles * at) / n;
    const re = mean((at) => amps[at]! * Math.cos(angle(at)));
    const im = mean((at) => amps[at]! * Math.sin(angle(at)));
    return Math.SQRT2 * Math.hypot(re, im);
  };
  return {
    volts: Math.sqrt(mean((at) => volts[at]! ** 2)),
    amps: Math.sqrt(mean((at) => amps[at]! ** 2)),
    peakAmps: amps.reduce((most, each) => Math.max(most, Math.abs(each)), 0),
    watts: mean((at) => volts[at]! * amps[at]!),
    harmonics: [1, 3, 5, 7, 9].map(harmonic),
  };
}

/** Runs a netlist; columns of `vectors` over the last six cycles before `untilS`. */
function spice(title: string, elements: string, vectors: string[], untilS: number): number[][] {
  const folder = mkdtempSync(join(tmpdir(), 'stiffline-spice-'));
  const from = untilS - cycles / hertz;
  const netlist = `* ${title}
${elements}
.model DI D(IS=2.3e-14 N=1 RS=1m)
.options method=gear maxord=2 reltol=1e-3 abstol=1e-4 vntol=1e-3 chgtol=1e-9
.control
tran 10u ${untilS} ${from} 10u uic
linearize ${vectors.join(' ')}
set wr_singlescale
option numdgt=9
wrdata out.txt ${vectors.join(' ')}
quit
.endc
.end
`;
  try {
    const run = spawnSync('ngspice', ['-b'], { cwd: folder, input: netlist, encoding: 'utf8' });
    expect(run.stderr, 'what ngspice says').not.toContain('Error');
    const rows = readFileSync(join(folder, 'out.txt'), 'utf8')
      .trim()
      .split('\n')
      .map((line) => line.trim().split(/\s+/).map(Number));
    rows.pop(); // The last instant is the first of a seventh cycle.
    return vectors.map((_, at) => rows.map((row) => row[at + 1]!));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Steps the ladder from rest; columns of every line's terminal volts and amperes, as above. */
function simulate(ladder: Ladder, machine: WeldingMachine, rms: number, untilS: number) {
  ladder.refold();
  const n = ladder.lines;
  const emf = new Float64Array(n);
  const volts: number[][] = Array.from({ length: n }, () => []);
  const amps: number[][] = Array.from({ length: n }, () => []);
  const until = Math.round(untilS * stepsPerSecond);
  const from = until - Math.round((cycles / hertz) * stepsPerSecond);
  for (let step = 1; step <= until; step++) {
    for (let line = 0; line < n; line++) {
      emf[line] = Math.SQRT2 * rms * Math.sin(omega * step * stepS - (2 * Math.PI * line) / 3);
    }
    ladder.fold(emf);
    machine.step(ladder.seenVolts, ladder.seenOhms, ladder.drawn);
    ladder.unfold();
    if (step <= from) continue;
    for (let line = 0; line < n; line++) {
      volts[line]!.push(ladder.volts[terminals * n + line]!);
      amps[line]!.push(ladder.drawn[line]!);
    }
  }
  return { volts, amps };
}

/** One per cent of each, and for the small high orders a thousandth of the fundamental. */
function expectSame(ours: Figures, theirs: Figures): void {
  for (const key of ['volts', 'amps', 'peakAmps', 'watts'] as const) {
    expect(
      Math.abs(ours[key] / theirs[key] - 1),
      `${key} ${ours[key]} ${theirs[key]}`,
    ).toBeLessThan(0.01);
  }
  for (const [at, their] of theirs.harmonics.entries()) {
    const off = Math.abs(ours.harmonics[at]! - their);
    const order = 2 * at + 1;
    expect(off, `harmonic ${order}: ${ours.harmonics[at]} ${their}`).toBeLessThan(
      0.01 * their + 0.001 * theirs.harmonics[0]!,
    );
  }
}

/** Spreads ohms and henries over a ladder of one or more lines. */
function ladderOf(lines: number, ohms: number[], henries: number[], shunts: Branch[] = []): Ladder {
  const ladder = new Ladder(lines, shunts);
  for (const section of [panel, outlet, terminals]) {
    for (let line = 0; line < lines; line++) {
      ladder.ohms[section * lines + line] = ohms[section]!;
      ladder.henries[section * lines + line] = henries[section]!;
    }
  }
  return ladder;
}

const idle = { slice: () => {}, set: () => {}, ready: true };

/** Constant power out of a bridge's capacitor. */
class Rectified implements OnePort {
  readonly ready = true;
  private readonly link: BridgeLink;
  private readonly watts: number;
  constructor(link: BridgeLink, watts: number) {
    this.link = link;
    this.watts = watts;
  }
  step(at: Terminals): void {
    this.link.loadAmps = this.watts / Math.max(this.link.volts, 50);
    this.link.step(at);
  }
  slice(): void {}
  set(): void {}
}

describe.skipIf(!hasSpice)('the same circuit in ngspice (skipped where ngspice is absent)', () => {
  test('resistance and inductance, with another load on the panel', () => {
    const heater = new Branch(panel, 0, -1);
    heater.set(24, 0);
    const motor = new Branch(outlet, 0, -1);
    motor.set(14, 0.028);
    const load = new Branch(terminals, 0, -1);
    load.set(6, 0.012);
    const ladder = ladderOf(1, [0.1, 0.15, 0.3], [90e-6, 40e-6, 30e-6], [heater, motor, load]);
    const none = { ...idle, step: (at: Terminals) => (at.amps = 0) };
    const { volts } = simulate(ladder, new Connected(none, 0, -1), 240, 1);
    const elements = `V1 src 0 SIN(0 ${240 * Math.SQRT2} 60)
R0 src a 0.1
L0 a n0 90u
RH n0 0 24
R1 n0 b 0.15
L1 b n1 40u
RM n1 m 14
LM m 0 28m
R2 n1 c 0.3
L2 c t 30u
Vsense t t2 0
RL t2 d 6
LL d 0 12m`;
    const [theirVolts, theirAmps] = spice('linear', elements, ['v(t)', 'i(vsense)'], 1) as [
      number[],
      number[],
    ];
    const theirs = figuresOf(theirVolts, theirAmps);
    const ours = figuresOf(volts[0]!, volts[0]!);
    expect(ours.volts / theirs.volts).toBeCloseTo(1, 4);
    // The branch's current from its impedance: the ladder does not keep it by itself.
    const amps = ours.volts / Math.hypot(6, omega * 0.012);
    expect(amps / theirs.amps).toBeCloseTo(1, 3);
  });

  test.each([
    {
      name: 'stiff 240 V, 5 kW',
      rms: 240,
      ohms: 0.12,
      henries: 118e-6,
      farads: 2.2e-3,
      watts: 5000,
    },
    { name: 'soft 240 V, 5 kW', rms: 240, ohms: 0.9, henries: 200e-6, farads: 2.2e-3, watts: 5000 },
    {
      name: 'soft 120 V, 1.9 kW',
      rms: 120,
      ohms: 0.6,
      henries: 110e-6,
      farads: 3.3e-3,
      watts: 1900,
    },
  ])('bridge, capacitor and constant power: $name', ({ rms, ohms, henries, farads, watts }) => {
    const series = 0.08;
    const choke = 20e-6;
    const ladder = ladderOf(1, [ohms / 2, ohms / 4, ohms / 4], [henries, 0, 0]);
    const start = rms * 1.25;
    const link = new BridgeLink({ farads, ohms: series, henries: choke }, start);
    const port = new Connected(new Rectified(link, watts), 0, -1);
    const { volts, amps } = simulate(ladder, port, rms, 0.4);
    const elements = `V1 src 0 SIN(0 ${rms * Math.SQRT2} 60)
R1 src a ${ohms}
L1 a t ${henries}
Vsense t s 0
Rs s q ${series}
Ls q p ${choke}
D1 p dp DI
D2 0 dp DI
D3 dn p DI
D4 dn 0 DI
C1 dp dn ${farads} IC=${start}
BL dp dn I=${watts}/max(V(dp,dn),50)
Rg dn 0 1e7`;
    const [v, i] = spice('capacitor input', elements, ['v(t)', 'i(vsense)'], 0.4) as [
      number[],
      number[],
    ];
    expectSame(figuresOf(volts[0]!, amps[0]!), figuresOf(v, i));
  });

  test.each([
    { name: 'all phases', open: 0, watts: 6500 },
    { name: 'a phase lost', open: 1e7, watts: 3500 },
  ])('six diodes, choke, capacitor and constant power: $name', ({ open, watts }) => {
    const [rms, ohms, henries, choke, farads] = [120, 0.09, 80e-6, 1.2e-3, 1.5e-3];
    const ladder = ladderOf(3, [ohms, 0, 0], [henries, 0, 0]);
    ladder.ohms[1] = ohms + open;
    const bridge = new SixPulse({ farads, ohms: 0.05, henries: choke }, 260);
    const machine: WeldingMachine = {
      ...idle,
      step(volts, seen, drawn) {
        bridge.loadAmps = watts / Math.max(bridge.volts, 50);
        bridge.step(volts, seen, drawn);
      },
    };
    const ours = simulate(ladder, machine, rms, 0.5);
    const phase = (name: string, degrees: number, extra: number): string => `
V${name} e${name} 0 SIN(0 ${rms * Math.SQRT2} 60 0 0 ${degrees})
R${name} e${name} f${name} ${ohms + extra}
L${name} f${name} t${name} ${henries}
RL${name} t${name} 0 22k
Vs${name} t${name} p${name} 0
D${name}1 p${name} dp DI
D${name}2 dn p${name} DI`;
    const elements = `${phase('a', 0, 0)}${phase('b', -120, open)}${phase('c', 120, 0)}
Rdc dp x 0.05
Ldc x y ${choke}
C1 y dn ${farads} IC=260
BL y dn I=${watts}/max(V(y,dn),50)
Rg dn 0 1e7`;
    const vectors = ['v(ta)', 'v(tc)', 'i(vsa)', 'i(vsc)'];
    const [va, vc, ia, ic] = spice('six pulse', elements, vectors, 0.5) as [
      number[],
      number[],
      number[],
      number[],
    ];
    expectSame(figuresOf(ours.volts[0]!, ours.amps[0]!), figuresOf(va, ia));
    expectSame(figuresOf(ours.volts[2]!, ours.amps[2]!), figuresOf(vc, ic));
  });

  test('transformer, bridge, choke and arc', () => {
    const spec = {
      volts: 240,
      hertz,
      tapVolts: 31,
      maxAmps: 170,
      switchOnS: 0,
      ohms: 0.4,
      leakHenries: 1.2e-3,
      magnetHenries: 0.35,
      coreOhms: 400,
      kneeFraction: 3,
      chokeHenries: 0.4e-3,
    };
    const arc = { burning: true, shorted: false } as Arc;
    const port = new TransformerRectifier(spec, arc);
    port.slice(0);
    const ladder = ladderOf(1, [0.12, 0, 0], [118e-6, 0, 0]);
    const ours = simulate(ladder, new Connected(port, 0, -1), 240, 0.5);
    const square = (240 / 31) ** 2;
    const flux = 0.4 * ((Math.SQRT2 * 240) / omega);
    const elements = `V1 src 0 SIN(0 ${240 * Math.SQRT2} 60)
R1 src a 0.12
L1 a t 118u
Vsense t s 0
Lm s 0 0.35 IC=${flux / 0.35}
Rm s 0 400
R2 s b 0.4
L2 b p 1.2m
D1 p dp DI
D2 0 dp DI
D3 dn p DI
D4 dn 0 DI
Lc dp x ${0.4e-3 * square}
Ra x y ${0.05 * square}
Va y dn ${14 * (240 / 31) + 2 * 0.9 * (240 / 31) - 1.8}
Rg dn 0 1e7`;
    const [v, i] = spice('transformer', elements, ['v(t)', 'i(vsense)'], 0.5) as [
      number[],
      number[],
    ];
    const total = ours.amps[0]!;
    expectSame(figuresOf(ours.volts[0]!, total), figuresOf(v, i));
  });
});
