import type { Arc } from '../arc.ts';
import type { Matrix } from '../linear.ts';
import type { CapacitorInverterSpec } from './capacitor-inverter.ts';
import type { WeldingMachine } from './machine.ts';
import { OutputStage } from './output-stage.ts';
import { Precharge } from './precharge.ts';
import { SixPulse } from './six-pulse.ts';

/** An inverter behind a six-diode bridge, choke and capacitor. */
export class ThreePhaseRectifier implements WeldingMachine {
  private readonly spec: CapacitorInverterSpec;
  private readonly bridge: SixPulse;
  private readonly stage: OutputStage;
  private readonly precharge: Precharge;
  private on = false;

  constructor(spec: CapacitorInverterSpec, arc: Arc) {
    this.spec = spec;
    const crest = spec.volts * Math.SQRT2;
    this.precharge = new Precharge(spec.prechargeOhms, crest);
    this.bridge = new SixPulse({ ...spec, ohms: spec.ohms + spec.prechargeOhms });
    this.stage = new OutputStage(arc, spec, crest, spec.foldFraction);
  }

  get ready(): boolean {
    return this.stage.ready;
  }

  set(amps: number): void {
    this.stage.set(amps);
  }

  step(volts: Float64Array, ohms: Matrix, drawn: Float64Array): void {
    if (!this.on) {
      drawn.fill(0);
      return;
    }
    const { bridge, stage } = this;
    stage.linkVolts = Math.max(bridge.volts, 1);
    stage.step();
    bridge.loadAmps = stage.watts / stage.linkVolts;
    bridge.step(volts, ohms, drawn);
  }

  slice(nowS: number): void {
    this.on = nowS >= this.spec.switchOnS;
    this.stage.slice(nowS);
    this.bridge.ohms = this.spec.ohms + this.precharge.slice(nowS, this.bridge.volts);
  }
}
