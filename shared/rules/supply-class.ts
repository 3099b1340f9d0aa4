import type { Finding } from '../protocol/judgement.ts';
import type { Volts } from '../units.ts';
import { aliveVolts } from './arrangement.ts';
import type { PhaseEvidence, Setting } from './facts.ts';
import { compare, reading, state } from './finding.ts';
import { inVolts, limits } from './limits.ts';
import { say, sayAll } from './say.ts';
import { nearestNominal } from './wiring.ts';

const id = 'voltage-class';

export type ClassAsked = Setting & { openVolts: Volts | null; phases?: PhaseEvidence | null };

/** What the supply is, by its description where nothing measured contradicts that. */
interface Supply {
  volts: Volts;
  /** No load, between the machine's terminals; null where it was not measured, or is dead. */
  seen: Volts | null;
  /** Null where nobody described the circuit, or wrongly. */
  described: Volts | null;
  /** A voltage that networks have; a circuit that something is wrong with has any other. */
  isClass: boolean;
  /** Lines of a 208Y/120 service, by their angle: 208 V, however high it stands today. */
  isWye?: boolean;
}

/** The supply's class against the plate's: whether the machine may be plugged in at all. */
export function supplyClass(asked: ClassAsked): Finding[] {
  const { rated } = asked;
  const supply = rated && supplyOf(asked, rated.U1);
  if (rated === null || supply === null) return [];
  return [tooHigh(asked, rated.U1, supply) ?? byClass(asked, rated.U1, supply)];
}

function supplyOf(asked: ClassAsked, U1: Volts): Supply | null {
  const { openVolts } = asked;
  const seen = openVolts !== null && openVolts >= aliveVolts ? openVolts : null;
  if (seen !== null && isWye208(asked)) {
    const named = asked.circuit?.volts === 208 ? 208 : null;
    return { volts: 208, seen, described: named, isClass: true, isWye: true };
  }
  const described = describedVolts(asked, seen, U1);
  const agrees =
    described !== null &&
    (seen === null || Math.abs(seen / described - 1) <= limits.classFar.value);
  if (agrees) return { volts: described, seen, described, isClass: true };
  if (seen === null) return null;
  const nominal = nearestNominal(seen);
  // A guess at the class never says more than was measured: 124 V may be 120 V as well as 127 V.
  const volts = nominal === null ? seen : nominal > U1 ? Math.min(nominal, seen) : nominal;
  return { volts, seen, described: null, isClass: nominal !== null };
}

/**
 * A circuit is described from line to line. Where several pairs are measured the machine may hang
 * on one leg of it, which nobody knows before its voltage is seen.
 */
function describedVolts(asked: ClassAsked, seen: Volts | null, U1: Volts): Volts | null {
  const { circuit, pairs, nominalVolts } = asked;
  if (circuit === null || pairs === 1) return circuit?.volts ?? null;
  if (seen !== null) return nominalVolts ?? circuit.volts;
  const legs = [circuit.volts / 2, circuit.volts / Math.sqrt(3)];
  const fits = (volts: Volts) => Math.abs(volts / U1 - 1) <= limits.classNear.value;
  return legs.some(fits) ? null : circuit.volts;
}

/** Between lines of a wye whose legs have the 120 V of 208Y/120. */
function isWye208({ service, loops, pairs }: ClassAsked): boolean {
  if (service === null || loops.some((loop) => loop < pairs)) return false;
  if (service.arrangement === 'wye-208') return true;
  const [leg = 0] = service.volts;
  return service.arrangement === 'three-phase' && Math.abs(leg / 120 - 1) <= limits.wyeLeg.value;
}

/** Over U1 + 10 % with no load, as described or as measured; null where it is not. */
function tooHigh(asked: ClassAsked, U1: Volts, { seen, described }: Supply): Finding | null {
  const limit = inVolts(limits.plateHigh, U1);
  const over = described !== null && described > limit.value + 1e-9;
  const high = over ? described : seen;
  if (high === null) return null;
  const half = over ? 0 : asked.accuracy.volts;
  const finding = compare(id, reading(high, half), limit, 'less', (verdict) => ({
    ...say(verdict === 'marginal' ? 'classHighNear' : 'classHigh', {
      ...{ supply: high, plate: U1, limit: limit.value },
      described: otherwise(asked, described),
    }),
    electrician: say('askOtherSupply'),
    required: true,
  }));
  if (finding.verdict === 'adequate') return null;
  return finding.verdict === 'marginal' ? finding : { ...finding, verdict: 'unsuited' };
}

function byClass(asked: ClassAsked, U1: Volts, supply: Supply): Finding {
  const off = supply.volts / U1 - 1;
  const verdict = classVerdict(asked, supply, U1);
  const told = say(classWords[verdict], {
    ...{ supply: supply.volts, plate: U1 },
    described: otherwise(asked, supply.described),
  });
  const words = {
    ...(supply.isWye && verdict !== 'adequate' ? sayAll(told, say('service208')) : told),
    electrician: verdict === 'adequate' ? null : say('askOtherSupply'),
    required: true,
  };
  const { classOther, classFar } = limits;
  const least = verdict === 'unsuited' ? classOther.value : 1 - classFar.value;
  return {
    ...state(id, verdict, words, verdict === 'unsuited' ? classOther.source : classFar.source, 'V'),
    measured: supply.volts,
    limit: U1 * (off <= 0 ? least : 1 + classFar.value),
    margin: off <= 0 ? supply.volts - U1 * least : U1 * (1 + classFar.value) - supply.volts,
  };
}

function classVerdict(asked: ClassAsked, { volts, isClass }: Supply, U1: Volts) {
  const off = Math.abs(volts / U1 - 1);
  if (off <= limits.classNear.value + 1e-9) return 'adequate';
  if (off <= limits.classFar.value + 1e-9) return 'marginal';
  const other = isClass && volts / U1 < limits.classOther.value && !lostLeg(asked);
  return other ? 'unsuited' : 'underpowered';
}

/** A leg that is gone leaves the volts of another class, and is a fault of this circuit. */
function lostLeg({ phases }: ClassAsked): boolean {
  if (!phases || phases.volts.length < 2) return false;
  return Math.min(...phases.volts) < limits.missingPhase.value * Math.max(...phases.volts);
}

/** What the circuit is called, where it is something else. */
const otherwise = ({ circuit }: ClassAsked, described: Volts | null): Volts | null =>
  described === null ? (circuit?.volts ?? null) : null;

const classWords = {
  adequate: 'classFits',
  marginal: 'classNear',
  underpowered: 'classFar',
  unsuited: 'classOther',
} as const;
