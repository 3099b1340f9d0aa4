import type { Finding, Verdict } from '../protocol/judgement.ts';
import type { Plate, PlateSupply } from '../protocol/plate.ts';
import type { Fraction } from '../units.ts';
import { voltsAtMachine } from './at-machine.ts';
import type { ArcEvidence, Rule, Setting, SupplyEvidence, Work } from './facts.ts';
import { advise, compare, notAsked, type Reading, state, thinEvidence } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { type Limit, limits } from './limits.ts';
import { hardest } from './plate-voltage.ts';
import { mostOutput, powerLeft, weldAmpsAt } from './rated-output.ts';
import { type Said, say } from './say.ts';

const id = 'output';
type Asked = Setting & { supply: SupplyEvidence; arc?: ArcEvidence };
type Behaviour = SupplyEvidence['behaviour'];

/**
 * Within U1 ± 10 % a machine must work; that it gives its rated output nobody promises. One that
 * holds its power draws more current. One that is a constant impedance gives less: its power goes
 * by the square of the voltage, and the arc takes what is left along the conventional load line.
 */
export const output: Rule<Asked> = {
  id,
  asks: "what the machine loses of its output at this voltage; the job's least output",
  required: 'where the job names a least output',
  limits: [limits.outputAtLow, limits.jobOutput],
  ask(asked) {
    const { rated, plate } = asked;
    if (rated === null || plate === null)
      return [notAsked(id, limits.outputAtLow, say('noPlateForLoad'))];
    const behaviour = behaviourOf(plate, asked.supply.behaviour);
    const volts = voltsFor(asked, rated, behaviour);
    if (volts === null) return [notAsked(id, limits.outputAtLow, say('outputNotKnown'))];
    const of = { plate, rated, behaviour, volts };
    const least = asked.work ? leastOf(asked.work, of) : [];
    return least.length > 0 ? least : [advice(of)];
  },
};

interface Case {
  plate: Plate;
  rated: PlateSupply;
  behaviour: Behaviour;
  /** Between the machine's terminals at full load; where that is not known, in this arc. */
  volts: Reading;
}

/** As measured or as the plate says; where the two differ, what loses output. */
function behaviourOf({ behaviour: said }: Plate, measured: Behaviour): Behaviour {
  if (said === 'constant-impedance' || measured === 'unknown') return said ?? measured;
  return measured;
}

function voltsFor(asked: Asked, rated: PlateSupply, behaviour: Behaviour): Reading | null {
  const foretold = fullLoadVolts(asked, rated, { ...asked.supply, behaviour });
  if (foretold !== null || asked.arc === undefined) return foretold;
  if (asked.arc.lostFraction > limits.lostShare.value) return null;
  return voltsAtMachine(asked, asked.arc.loops.map(hardest), asked.accuracy.volts);
}

const through = ({ value, lo, hi }: Reading, of: (each: number) => number): Reading => ({
  ...{ value: of(value), lo: of(lo), hi: of(hi) },
});

/** Less than what is lost then is no news. Common practice, no source. */
const nearlyAll: Fraction = 0.99;

/** Nobody asks for an output: what the voltage takes is told, and marginal outside ± 10 %. */
function advice({ rated: { U1, I1max }, behaviour, volts }: Case): Finding {
  const left = through(volts, (each) => powerLeft(each, U1));
  const at = { volts: volts.value, plate: U1 };
  const electrician = say('mustOnlyWork');
  const limit = limits.outputAtLow;
  if (left.value > nearlyAll) return told('adequate', say('outputFull', at));
  const low = limits.plateLow.value * U1;
  if (behaviour === 'constant-power' && volts.value < low)
    return notAsked(id, limit, say('outputBelow', { volts: volts.value, low }));
  if (behaviour === 'constant-power') {
    const more = U1 / volts.value - 1;
    const words = say('outputHeld', { ...at, more, amps: I1max * (1 + more) });
    return told('adequate', { ...words, electrician });
  }
  const loses = { ...at, less: 1 - left.value };
  if (behaviour === 'unknown') return notAsked(id, limit, say('outputMayFall', loses));
  return advise(id, left, limit, 'more', () => ({ ...say('outputFalls', loses), electrician }));
}

const told = (verdict: Verdict, words: Said & { electrician?: Said }): Finding =>
  state(id, verdict, words, limits.outputAtLow.source, limits.outputAtLow.unit);

/** Each least that the job names; both where it names two. */
function leastOf({ leastOutput, leastWeldAmps }: Work, of: Case): Finding[] {
  return [
    ...(leastOutput == null ? [] : [leastShare(leastOutput, of)]),
    ...(leastWeldAmps == null ? [] : [leastAmps(leastWeldAmps, of)]),
  ];
}

function leastShare(least: Fraction, of: Case): Finding {
  const limit = { ...limits.jobOutput, value: least };
  const left = through(of.volts, (each) => powerLeft(each, of.rated.U1));
  return held(limit, { value: 1, lo: 1, hi: 1 }, left, of);
}

function leastAmps(least: number, of: Case): Finding {
  const { plate, rated, volts } = of;
  const limit = { ...limits.jobOutput, value: least, unit: 'A' };
  const most = mostOutput(plate, rated);
  if (most === 0)
    return thinEvidence(id, limit, { ...say('outputNotNamed', { least }), required: true });
  const less = through(volts, (each) => weldAmpsAt(plate, rated, each));
  return held(limit, { value: most, lo: most, hi: most }, less, of);
}

/**
 * `full`: what a machine gives that holds its output; `less`: one that does not. Of a machine that
 * nobody knows what is sure either way counts, and the rest is not proven.
 */
function held(limit: Limit, full: Reading, less: Reading, { behaviour, volts, rated }: Case) {
  const at = { volts: volts.value, plate: rated.U1, unit: limit.unit, least: limit.value };
  const judged = (gives: Reading) =>
    compare(id, gives, limit, 'more', (verdict) => ({
      ...say(verdict === 'adequate' ? 'outputEnough' : 'outputShortOf', {
        ...at,
        gives: verdict === 'marginal' ? gives.lo : gives.value,
      }),
      electrician: say('mustOnlyWork'),
      required: true,
    }));
  const low = limits.plateLow.value * rated.U1;
  if (behaviour === 'constant-power' && volts.value >= low) return judged(full);
  const lesser = judged(less);
  if (behaviour === 'constant-impedance' || lesser.verdict === 'adequate') return lesser;
  if (full.hi < limit.value) return judged(full);
  const why =
    behaviour === 'constant-power'
      ? say('outputBelow', { volts: volts.value, low })
      : say('outputUnproven', { ...at, gives: less.value });
  return thinEvidence(id, limit, {
    ...why,
    electrician: say('mustOnlyWork'),
    required: true,
  });
}
