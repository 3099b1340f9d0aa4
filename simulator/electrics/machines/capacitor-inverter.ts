import type { Arc } from '../arc.ts';
import { BridgeLink } from './bridge-link.ts';
import type { OnePort, Terminals } from './machine.ts';
import { type OutputSpec, OutputStage } from './output-stage.ts';

export interface CapacitorInverterSpec extends OutputSpec {
  volts: number;
  farads: number;
  ohms: number;
  henries: number;
  prechargeOhms: number;
  foldFraction: number;
}

/** Long enough to charge the link through the resistor before a relay shorts it, s. */
const chargeS = 0.4;

/** An inverter whose diode bridge charges its capacitor at the crests: peaky current. */
export class CapacitorInverter implements OnePort {
  private readonly spec: CapacitorInverterSpec;
  private readonly link: BridgeLink;
  private readonly stage: OutputStage;
  private readonly crest: number;
  private on = false;
  private relayAtS = 0;

  constructor(spec: CapacitorInverterSpec, arc: Arc) {
    this.spec = spec;
    this.crest = spec.volts * Math.SQRT2;
    this.link = new BridgeLink({ ...spec, ohms: spec.ohms + spec.prechargeOhms });
    this.stage = new OutputStage(arc, spec, this.crest, spec.foldFraction);
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
    if (this.link.volts < 0.3 * this.crest) this.relayAtS = nowS + chargeS;
    this.link.ohms = this.spec.ohms + (nowS < this.relayAtS ? this.spec.prechargeOhms : 0);
  }
}
