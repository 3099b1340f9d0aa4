/** Long enough to charge the link through the resistor before a relay shorts it, s. */
const chargeS = 0.4;

/** The resistor that an inverter charges its link through, and the relay that shorts it. */
export class Precharge {
  private readonly ohms: number;
  private readonly emptyVolts: number;
  private relayAtS = 0;

  /** @param crest of the supply; a link under three tenths of it is charged anew, V */
  constructor(ohms: number, crest: number) {
    this.ohms = ohms;
    this.emptyVolts = 0.3 * crest;
  }

  /** Ohms that stand in the way now. */
  slice(nowS: number, linkVolts: number): number {
    if (linkVolts < this.emptyVolts) this.relayAtS = nowS + chargeS;
    return nowS < this.relayAtS ? this.ohms : 0;
  }
}
