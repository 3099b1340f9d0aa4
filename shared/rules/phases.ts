import type { Finding } from '../protocol/judgement.ts';
import type { Volts } from '../units.ts';
import { arrangementOf, type ServiceSeen } from './arrangement.ts';
import type { PhaseEvidence, Rule, Setting, SupplyEvidence } from './facts.ts';
import { advise, notAsked, state, thinEvidence } from './finding.ts';
import { arrangementLimits, limits, loopLimits } from './limits.ts';
import { legs } from './neutral.ts';
import { type Said, say } from './say.ts';

const id = 'phases';
type Asked = Setting & { phases: PhaseEvidence | null; supply?: SupplyEvidence };

/** A lost phase starves the machine; a lost neutral can burn the shop down. */
export const phases: Rule<Asked> = {
  id,
  asks:
    'how the wires are fed, by magnitudes and angles, and whether the machine may hang there; ' +
    'missing or unbalanced phase; one leg up and the other down (neutral)',
  required: 'always',
  limits: [
    limits.missingPhase,
    limits.unbalance,
    limits.legShift,
    limits.legLow,
    limits.wildLeg,
    limits.wildLegMost,
  ],
  ask(asked) {
    const { plate, circuit, service, phases: seen } = asked;
    if (plate?.phases === 3 && circuit?.phases === 1)
      return [state(id, 'unsuited', { ...say('threePhasesNeeded'), required: true })];
    if (service === null) return [notAsked(id, limits.unbalance, say('onePair'))];
    const wild = wildLeg(asked, service);
    if (wild) return [wild];
    return [ofService(asked, service, seen)];
  },
};

function ofService(asked: Asked, service: ServiceSeen, seen: PhaseEvidence | null): Finding {
  const three = asked.plate?.phases === 3;
  const [between = 0] = service.volts.slice(asked.pairs);
  switch (service.arrangement) {
    case 'single':
      return three ? doubt(say('onePhaseSeen')) : notAsked(id, limits.unbalance, say('onePair'));
    case 'unknown':
      return doubt(say('serviceUnknown'), say('checkSensorWires'));
    case 'same-leg':
      return doubt(say('sameLeg', { between }), say('checkSensorWires'));
    case 'phase-twice':
      return doubt(say('phaseTwice'), say('checkSensorWires'));
    case 'missing-phase':
      return missingService(asked, service);
    case 'split-phase':
      if (three) return state(id, 'unsuited', { ...say('splitNoThree'), required: true });
      return lostNow(asked, seen) ?? legs(asked, service, seen);
    case 'wye-208':
    case 'wye-legs':
      return three ? doubt(say('twoOfThree')) : (lostNow(asked, seen) ?? twoLegs(asked, service));
    case 'three-phase-delta':
      if (!isLineToLine(asked)) return doubt(say('lineOrNeutral'), say('checkSensorWires'));
      return lostNow(asked, seen) ?? balance(asked, service, seen);
    case 'corner-grounded':
    case 'high-leg':
    case 'three-phase':
      if (asked.pairs === 3) return lostNow(asked, seen) ?? balance(asked, service, seen);
      return three ? doubt(say('twoOfThree')) : (lostNow(asked, seen) ?? twoLegs(asked, service));
  }
}

const doubt = (said: Said, electrician: Said | null = null): Finding =>
  thinEvidence(id, limits.unbalance, { ...said, electrician, required: true });

/** Two hot legs of a service that has more: told by what lies between them. */
function twoLegs({ pairs }: Asked, { arrangement, volts }: ServiceSeen): Finding {
  const says = say('serviceTwoLegs', { arrangement, between: volts[pairs] ?? 0 });
  return state(id, 'adequate', { ...says, required: true });
}

/** 120 V is meant, and a pair has what the high leg of a delta has to neutral. */
function wildLeg({ rated, circuit, loops, pairs }: Asked, { volts }: ServiceSeen): Finding | null {
  const small = limits.smallVolts.value;
  const meant = (rated !== null && rated.U1 <= small) || (circuit?.volts ?? small + 1) <= small;
  const onPairs = loops.filter((loop) => loop < pairs).map((loop) => volts[loop]!);
  const high = Math.max(0, ...onPairs);
  const limit = limits.wildLeg;
  if (!meant || high < limit.value || high > limits.wildLegMost.value) return null;
  return {
    ...state(
      id,
      'unsuited',
      { ...say('wildLeg', { high }), electrician: say('findHighLeg'), required: true },
      limit.source,
      limit.unit,
    ),
    measured: high,
    limit: limit.value,
    margin: limit.value - high,
  };
}

/** The lines that the machine's loops are made of. */
function linesUsed({ loops, pairs }: Asked): number[] {
  return loops.flatMap((loop) => {
    if (loop < pairs) return [loop];
    return pairs === 2 ? [0, 1] : [loop - pairs, (loop - pairs + 1) % pairs];
  });
}

/** A line that was dead all along matters to a machine that hangs on it, and to no other. */
function missingService(asked: Asked, { volts }: ServiceSeen): Finding {
  const pairs = volts.slice(0, asked.pairs);
  const low = Math.min(...pairs);
  const phase = pairs.indexOf(low);
  const used = asked.plate === null || linesUsed(asked).includes(phase);
  if (used) return missing(pairs, null);
  return state(id, 'adequate', {
    ...say('otherLineDead', { phase: phase + 1, low }),
    required: true,
  });
}

/** A phase that went while somebody looked. */
function lostNow(asked: Asked, seen: PhaseEvidence | null): Finding | null {
  if (seen === null) return null;
  const { volts, between, atS } = seen;
  if (asked.pairs === 2) {
    const [low, high] = [Math.min(...volts), Math.max(...volts)];
    const phase = volts.indexOf(low);
    if (low >= high * limits.missingPhase.value || !linesUsed(asked).includes(phase)) return null;
    // Two legs that add up to the whole have lost nothing but the point between them.
    return legsHold(asked, between[0] ?? 0) ? null : missing(volts, atS);
  }
  const then = arrangementOf([...volts, ...between], isDelta(asked));
  const lost = then === 'missing-phase' || then === 'phase-twice';
  const phase = volts.indexOf(Math.min(...volts));
  return lost && linesUsed(asked).includes(phase) ? missing(volts, atS) : null;
}

/**
 * Volts that fit the plate as they are may be those from line to line, or a service that is √3 too
 * high for it. A current that leads its voltage stands beside another line's; one that lags may be
 * the machine's own, so that the circuit's description has to say the same.
 */
function isLineToLine({ supply, circuit }: Asked): boolean {
  const lags = (supply?.pairs ?? []).flatMap((view) => (view ? [view.lagRadians] : []));
  if (lags.length === 0) return true;
  const mean = ((lags.reduce((sum, lag) => sum + lag, 0) / lags.length) * 180) / Math.PI;
  if (mean < loopLimits.leads.value) return true;
  return mean > loopLimits.lags.value && circuit !== null;
}

const isDelta = ({ service }: Asked) => service?.arrangement === 'three-phase-delta';

const legsHold = ({ service, pairs }: Asked, between: Volts): boolean =>
  service?.arrangement === 'split-phase' &&
  between > arrangementLimits.whole.value * (service.volts[pairs] ?? 0);

function missing(pairs: readonly Volts[], atS: number | null): Finding {
  const high = Math.max(...pairs);
  const low = Math.min(...pairs);
  const limit = high * limits.missingPhase.value;
  return {
    ...state(
      id,
      'underpowered',
      {
        ...say('phaseMissing', { phase: pairs.indexOf(low) + 1, low, high }),
        electrician: say('lookForFuse'),
        atS: atS === null ? null : [atS, atS],
        required: true,
      },
      limits.missingPhase.source,
      'V',
    ),
    measured: low,
    limit,
    margin: low - limit,
  };
}

/**
 * Largest deviation from the mean of three voltages between lines, as part of the mean (NEMA's
 * way): voltages to neutral say nothing of it where the neutral is no centre.
 */
function balance(asked: Asked, service: ServiceSeen, seen: PhaseEvidence | null): Finding {
  const { accuracy, pairs } = asked;
  const now = seen ?? { volts: service.volts.slice(0, pairs), between: service.volts.slice(pairs) };
  const lines = isDelta(asked) ? now.volts : now.between;
  const mean = lines.reduce((sum, one) => sum + one, 0) / lines.length;
  const off = Math.max(...lines.map((one) => Math.abs(one - mean))) / mean;
  const measured = { value: off, lo: off - accuracy.volts, hi: off + accuracy.volts };
  return advise(id, measured, limits.unbalance, 'less', () => ({
    ...say('phasesDiffer', {
      ...{ arrangement: service.arrangement, part: off, usual: limits.unbalance.value },
    }),
    atS: seen && [seen.atS, seen.atS],
    required: true,
  }));
}
