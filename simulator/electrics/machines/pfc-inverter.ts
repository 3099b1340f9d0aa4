import type { Arc } from '../arc.ts';
import { stepS } from '../clockwork.ts';
import { diodeVolts } from './bridge-link.ts';
import type { OnePort, Terminals } from './machine.ts';
import { type OutputSpec, OutputStage } from './output-stage.ts';

export interface PfcInverterSpec extends OutputSpec {
  volts: number;
  farads: number;
  busVolts: number;
  supplyAmps: number;
}

const chargeOhms = 15;
/** Output folds back below this part of the bus's set volts. */
const foldFraction = 0.85;
/** The voltage loop is slow, so that the bus's ripple does not distort the current. */
const loopTauS = 0.02;
const feedTauS = 0.003;

/**
 * An inverter behind a boost stage: it draws a current in the shape of its voltage, as much as its
 * power needs and its current limit allows.
 */
export class PfcInverter implements OnePort {
  private readonly spec: PfcInverterSpec;
  private readonly stage: OutputStage;
  private readonly settle = 1 - Math.exp(-stepS / loopTauS);
  private readonly feed = 1 - Math.exp(-stepS / feedTauS);
  private readonly halfFarads: number;
  private readonly stepS = stepS;
  private busVolts = 0;
  private meanSquareVolts: number;
  private meanWatts = 0;
  private meanJoules = 0;
  private siemens = 0;
  private on = false;
  private boosting = false;

  constructor(spec: PfcInverterSpec, arc: Arc) {
    this.spec = spec;
    this.halfFarads = spec.farads / 2;
    this.meanSquareVolts = spec.volts * spec.volts;
    this.stage = new OutputStage(arc, spec, spec.busVolts, foldFraction);
  }

  get ready(): boolean {
    return this.stage.ready;
  }

  set(amps: number): void {
    this.stage.set(amps);
  }

  step(at: Terminals): void {
    at.amps = 0;
    if (!this.on) return;
    const { stage, halfFarads, stepS } = this;
    stage.linkVolts = this.busVolts;
    stage.step();
    if (this.boosting) this.boost(at);
    else this.charge(at);
    const { watts } = stage;
    const { volts, ohms, amps } = at;
    const given = (volts - ohms * amps) * amps - (this.boosting ? 0 : amps * amps * chargeOhms);
    const joules = halfFarads * this.busVolts * this.busVolts + (given - watts) * stepS;
    this.busVolts = Math.sqrt(Math.max(joules, 0) / halfFarads);
    this.meanJoules += (joules - this.meanJoules) * this.settle;
  }

  private boost(at: Terminals): void {
    const { busVolts, supplyAmps } = this.spec;
    at.amps = (at.volts * this.siemens) / (1 + at.ohms * this.siemens);
    const terminal = at.volts - at.ohms * at.amps;
    this.meanSquareVolts += (terminal * terminal - this.meanSquareVolts) * this.settle;
    this.meanWatts += (this.stage.watts - this.meanWatts) * this.feed;
    const short = this.halfFarads * busVolts * busVolts - this.meanJoules;
    const wanted = Math.max(0, this.meanWatts + short / (3 * loopTauS));
    const square = Math.max(this.meanSquareVolts, 100);
    this.siemens = Math.min(wanted / square, supplyAmps / Math.sqrt(square));
  }

  /** At switch-on the bus charges through a resistor to the crest. */
  private charge(at: Terminals): void {
    const over = Math.abs(at.volts) - this.busVolts - 2 * diodeVolts;
    const size = Math.max(0, over) / (at.ohms + chargeOhms);
    at.amps = at.volts < 0 ? -size : size;
  }

  slice(nowS: number): void {
    this.on = nowS >= this.spec.switchOnS;
    this.stage.slice(nowS);
    const crest = this.spec.volts * Math.SQRT2;
    if (nowS >= this.spec.switchOnS + 0.15 && this.busVolts > 0.6 * crest) this.boosting = true;
    else if (this.busVolts < 0.4 * crest) this.boosting = false;
    if (!this.boosting) this.siemens = 0;
  }
}
