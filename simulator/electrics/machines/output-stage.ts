import { type Arc, loadVolts } from '../arc.ts';
import { sliceS, stepS } from '../clockwork.ts';

export interface OutputSpec {
  efficiency: number;
  idleWatts: number;
  maxAmps: number;
  switchOnS: number;
  dropFraction: number;
  restartS: number;
}

/** A machine's link is ready above this part of its nominal. */
const readyFraction = 0.8;
/** After switching on, the link charges and a relay closes before the machine is ready, s. */
const chargedS = 0.5;

/**
 * The regulated side of an inverter: draws the power that the arc needs from the link, whatever
 * its volts; folds back when the link falls low, and drops out when it falls lower.
 */
export class OutputStage {
  ready = false;
  /** Set by the machine before a step. Fields, not arguments: numbers passed singly are boxed. */
  linkVolts = 0;
  /** Out of the link in this step. */
  watts = 0;
  /** Mean link volts over about a cycle. */
  meanVolts = 0;
  private readonly arc: Arc;
  private readonly spec: OutputSpec;
  private readonly nominalVolts: number;
  private readonly foldFraction: number;
  private readonly settle = 1 - Math.exp(-stepS / 0.012);
  private setWatts = 0;
  private fold = 1;
  private restartAtS = 0;

  constructor(arc: Arc, spec: OutputSpec, nominalVolts: number, foldFraction: number) {
    this.arc = arc;
    this.spec = spec;
    this.nominalVolts = nominalVolts;
    this.foldFraction = foldFraction;
    this.set(spec.maxAmps);
  }

  set(amps: number): void {
    const given = Math.min(amps, this.spec.maxAmps);
    this.setWatts = (given * loadVolts(given)) / this.spec.efficiency;
  }

  step(): void {
    this.meanVolts += (this.linkVolts - this.meanVolts) * this.settle;
    if (this.ready) this.watts = this.spec.idleWatts + this.setWatts * this.arc.share * this.fold;
    else this.watts = Math.min(this.spec.idleWatts, this.linkVolts);
  }

  slice(nowS: number): void {
    const { dropFraction, restartS, switchOnS } = this.spec;
    const now = this.meanVolts / this.nominalVolts;
    const span = Math.max(this.foldFraction - dropFraction, 0.01);
    const able = Math.min(1, Math.max(0, (now - dropFraction) / span));
    // Follows within some 15 ms, as a regulator does, so that it does not chatter.
    this.fold += ((able - this.fold) * sliceS) / 0.015;
    if (this.ready && now < dropFraction) {
      this.ready = false;
      this.restartAtS = nowS + restartS;
    } else if (!this.ready && nowS >= Math.max(switchOnS + chargedS, this.restartAtS)) {
      this.ready = now >= Math.min(readyFraction, dropFraction + 0.1);
    }
  }
}
