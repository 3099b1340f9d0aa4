import type { Arc } from '../arc.ts';
import { BridgeLink } from './bridge-link.ts';
import type { OnePort, Terminals } from './machine.ts';
import { type OutputSpec, OutputStage } from './output-stage.ts';
import { Precharge } from './precharge.ts';

export interface CapacitorInverterSpec extends OutputSpec {
  volts: number;
  farads: number;
  ohms: number;
  henries: number;
  prechargeOhms: number;
  foldFraction: number;
}

/** An inverter whose diode bridge charges its capacitor at the crests: peaky current. */
export class CapacitorInverter implements OnePort {
  private readonly spec: CapacitorInverterSpec;
  private readonly link: BridgeLink;
  private readonly stage: OutputStage;
  private readonly precharge: Precharge;
  private on = false;

  constructor(spec: CapacitorInverterSpec, arc: Arc) {
    this.spec = spec;
    const crest = spec.volts * Math.SQRT2;
    this.precharge = new Precharge(spec.prechargeOhms, crest);
    this.link = new BridgeLink({ ...spec, ohms: spec.ohms + spec.prechargeOhms });
    this.stage = new OutputStage(arc, spec, crest, spec.foldFraction);
  }

  get ready(): boolean {
    return this.stage.ready;
  }

  set(amps: number): void {
    this.stage.set(amps);
  }

  step(at: Terminals): void {
    if (!this.on) {
      at.amps = 0;
      return;
    }
    const { link, stage } = this;
    stage.linkVolts = Math.max(link.volts, 1);
    stage.step();
    link.loadAmps = stage.watts / stage.linkVolts;
    link.step(at);
  }

  slice(nowS: number): void {
    this.on = nowS >= this.spec.switchOnS;
    this.stage.slice(nowS);
    this.link.ohms = this.spec.ohms + this.precharge.slice(nowS, this.link.volts);
  }
}
