import { decidingFinding } from '../protocol/deciding-finding.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { Machine, PlannedCircuit, PlanRow } from '../protocol/planning.ts';
import type { Remedy } from '../protocol/remedy.ts';
import { isBroken } from '../protocol/verdicts.ts';
import type { Setting } from './facts.ts';
import { judgeFeed } from './feed.ts';
import { assumptionWords, type PlannedSupply, plannedSupply } from './planned-supply.ts';
import { ratedLine } from './rated-line.ts';
import { remedies } from './remedies.ts';
import { type Said, saidBy, say, sayAll } from './say.ts';

/** A circuit's supply for machines of one phase and of three: worked out once, asked often. */
export function suppliesOf(circuit: PlannedCircuit): (machine: Machine) => PlannedSupply {
  const known = new Map<boolean, PlannedSupply>();
  return ({ phases }) => {
    const three = phases === 3;
    const supply = known.get(three) ?? plannedSupply(circuit, three);
    known.set(three, supply);
    return supply;
  };
}

/** One machine on one circuit: by the plate's line for that supply, at its full current. */
export function planRow(
  machine: Machine,
  circuit: PlannedCircuit,
  planned: PlannedSupply = plannedSupply(circuit, machine.phases === 3),
): PlanRow {
  const { evidence, openVolts } = planned;
  const setting = settingFor(machine, circuit, planned);
  const feed = judgeFeed(setting, evidence, openVolts);
  const { verdict, atFullLoad, findings } = feed;
  return {
    machine: machine.name,
    circuit: circuit.name,
    verdict,
    voltsAtFullLoad: atFullLoad?.value ?? null,
    volts95: atFullLoad && [atFullLoad.lo, atFullLoad.hi],
    plateVolts: setting.rated?.U1 ?? circuit.volts,
    supply: planned.from,
    findings: findings.map((finding) => told(finding, circuit, planned)),
  };
}

/** What would make a machine right on a circuit that does not feed it. */
export function planRemedies(machine: Machine, circuit: PlannedCircuit): Remedy[] {
  const planned = plannedSupply(circuit, machine.phases === 3);
  const { evidence, openVolts } = planned;
  return remedies(settingFor(machine, circuit, planned), evidence, { openVolts });
}

function settingFor(machine: Machine, circuit: PlannedCircuit, planned: PlannedSupply): Setting {
  // Written out: a spread of its own for each of thousands costs more than the judging.
  const { circuit: described, pairs, loops, ampsPerLine, service, accuracy } = planned.setting;
  return {
    plate: machine,
    circuit: described,
    pairs,
    loops,
    ampsPerLine,
    service,
    accuracy,
    rated: ratedLine(machine.supply, planned.openVolts ?? circuit.volts),
    nominalVolts: circuit.volts,
    nominalHertz: circuit.hertz ?? null,
    work: null,
    coupon: null,
  };
}

/** A foretold voltage says what it stands on. */
function told(finding: Finding, circuit: PlannedCircuit, { from }: PlannedSupply): Finding {
  if (finding.rule !== 'full-load' || from === 'measured') return finding;
  if (from === 'unknown')
    return { ...finding, ...say('nothingKnown'), ...toElectrician(say('breakerSaysNothing')) };
  return {
    ...finding,
    ...sayAll(saidBy(finding), say('workedOut')),
    ...toElectrician(assumptionWords(circuit)),
  };
}

const toElectrician = ({ says, saying }: Said) => ({
  electrician: says,
  electricianSaying: saying,
});

/** Why a row is not adequate: a supply of the wrong kind before what it would do under load. */
export function causeOf({ verdict, findings }: Pick<PlanRow, 'verdict' | 'findings'>): Said | null {
  const wrongKind = findings.find(
    (finding) => isBroken(finding.verdict) && ['phases', 'voltage-class'].includes(finding.rule),
  );
  const finding = wrongKind ?? decidingFinding(verdict, findings);
  return finding && saidBy(finding);
}
