import { type Arc, arcOhms, arcVolts, loadVolts } from '../arc.ts';
import { stepS } from '../clockwork.ts';
import { diodeVolts } from './bridge-link.ts';
import { type OnePort, Terminals } from './machine.ts';

export interface TransformerSpec {
  volts: number;
  hertz: number;
  tapVolts: number;
  maxAmps: number;
  switchOnS: number;
  ohms: number;
  leakHenries: number;
  magnetHenries: number;
  coreOhms: number;
  kneeFraction: number;
  chokeHenries: number;
}

/** A drop bridging wire and pool keeps a few volts. */
const shortVolts = 3;
/** Beyond its knee the winding is little more than a coil in air, of the magnetising inductance. */
const airFraction = 0.004;
/** Supply below this part of rated: the wire feed and contactor let go (common practice). */
const holdFraction = 0.5;
/** Flux left in the core from the last time it was switched off, of its rated peak. */
const remanence = 0.4;

/**
 * Transformer, bridge and choke: its output falls with its supply, so a sagging supply makes a
 * cold weld. All on the output's side is referred to the supply's through the turns ratio.
 */
export class TransformerRectifier implements OnePort {
  ready = false;
  private readonly spec: TransformerSpec;
  private readonly arc: Arc;
  private readonly knee: number;
  private readonly stepS = stepS;
  /** On the output's side: the arc's volts and ohms, and two diodes'. */
  private readonly arcVolts = arcVolts;
  private readonly arcOhms = arcOhms;
  private readonly bridgeVolts = 2 * diodeVolts;
  private ratio: number;
  private on = false;
  private meanVolts = 0;
  private flux: number;
  private flux1: number;
  /** Into the bridge, and through the choke, as the supply's side sees them. */
  private amps1 = 0;
  private amps2 = 0;
  private choke1 = 0;
  private choke2 = 0;
  private choke = 0;
  /** The bridge behind the leakage. */
  private readonly inner = new Terminals();

  constructor(spec: TransformerSpec, arc: Arc) {
    this.spec = spec;
    this.arc = arc;
    this.ratio = spec.volts / spec.tapVolts;
    const peak = (Math.SQRT2 * spec.volts) / (2 * Math.PI * spec.hertz);
    this.knee = peak * spec.kneeFraction;
    this.flux = this.flux1 = peak * remanence;
  }

  /** A lower tap for a lower current, as much as the arc's volts ask. */
  set(amps: number): void {
    const { maxAmps, tapVolts, volts } = this.spec;
    const part = loadVolts(Math.min(amps, maxAmps)) / loadVolts(maxAmps);
    this.ratio = volts / (tapVolts * part);
  }

  step(at: Terminals): void {
    at.amps = 0;
    if (!this.on) return;
    const { volts, ohms } = at;
    const { stepS } = this;
    const { coreOhms, magnetHenries, leakHenries } = this.spec;
    // Magnetising branch: two straight lines of current against flux, with the core's losses.
    const fluxBefore = (2 * this.flux - 0.5 * this.flux1) / 1.5;
    const over = Math.abs(fluxBefore) > this.knee;
    const henries = over ? magnetHenries * airFraction : magnetHenries;
    const bend = Math.sign(fluxBefore) * this.knee;
    const siemens = stepS / 1.5 / henries + 1 / coreOhms;
    const own = over ? bend / magnetHenries + (fluxBefore - bend) / henries : fluxBefore / henries;
    const folding = 1 / (1 + ohms * siemens);
    const seen = (volts - ohms * own) * folding;
    const perStep = leakHenries / stepS;
    const open = seen - perStep * (0.5 * this.amps2 - 2 * this.amps1);
    const { inner } = this;
    inner.volts = open;
    inner.ohms = ohms * folding + this.spec.ohms + 1.5 * perStep;
    this.bridge(inner);
    const { amps } = inner;
    this.amps2 = this.amps1;
    this.amps1 = amps;
    const terminal = seen - ohms * folding * amps;
    this.flux1 = this.flux;
    this.flux = fluxBefore + (stepS / 1.5) * terminal;
    this.meanVolts += (Math.abs(terminal) - this.meanVolts) * 0.002;
    at.amps = amps + siemens * terminal + own;
  }

  /** Sets the amperes into the bridge. */
  private bridge(at: Terminals): void {
    const { arc, ratio } = this;
    const { volts, ohms } = at;
    this.choke2 = this.choke1;
    this.choke1 = this.choke;
    if (!arc.burning) {
      this.choke = 0;
      at.amps = 0;
      return;
    }
    const square = ratio * ratio;
    const perStep = (this.spec.chokeHenries * square) / this.stepS;
    const back = (arc.shorted ? shortVolts : this.arcVolts) * ratio;
    const before = back + perStep * (0.5 * this.choke2 - 2 * this.choke1);
    const behind = this.arcOhms * square + 1.5 * perStep;
    const drop = this.bridgeVolts * ratio;
    // All four diodes on: the choke's current runs through the bridge, the supply's reverses.
    const free = (-drop - before) / behind;
    if (free > 0 && Math.abs(volts / ohms) <= free) {
      this.choke = free;
      at.amps = volts / ohms;
      return;
    }
    this.choke = Math.max(0, (Math.abs(volts) - drop - before) / (ohms + behind));
    at.amps = volts < 0 ? -this.choke : this.choke;
  }

  slice(nowS: number): void {
    this.on = nowS >= this.spec.switchOnS;
    // Mean of a rectified sine over its r.m.s. is 0.90.
    const held = this.meanVolts > 0.9 * holdFraction * this.spec.volts;
    this.ready = nowS >= this.spec.switchOnS + 0.2 && held;
  }
}
