import type { Finding, Verdict } from '../protocol/judgement.ts';
import type { Watts } from '../units.ts';
import type { ConnectionEvidence, Rule, Setting, SupplyEvidence } from './facts.ts';
import { notAsked, state } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { limits } from './limits.ts';
import { type Said, say } from './say.ts';

const id = 'connection';
type Asked = Setting & { supply: SupplyEvidence };

/**
 * A resistance that changes is a contact's: no wire jumps between arcs, and none gains more than a
 * fifth within one. Drop limits cannot see it: a glowing contact takes 2 V of 240.
 */
export const connection: Rule<Asked> = {
  id,
  asks: 'resistance of the supply that grew between arcs, grows within them, or wanders',
  required: 'when it fires',
  limits: [limits.contactWatts],
  ask(asked) {
    const { connection: changed, pairs } = asked.supply;
    if (changed) return [found(asked, changed)];
    if (pairs.every((view) => view === null))
      return [notAsked(id, limits.contactWatts, say('connectionNotTold'))];
    return [state(id, 'adequate', say('connectionSteady'), limits.contactWatts.source, 'W')];
  },
};

function found(asked: Asked, changed: ConnectionEvidence): Finding {
  const { amps, added95 } = changed;
  const heat = (ohms: number): Watts => amps * amps * Math.max(0, ohms);
  const [low, high] = [heat(added95[0]), heat(added95[1])];
  const watts = heat(changed.ohmsAfter - changed.ohmsBefore);
  const limit = limits.contactWatts;
  const verdict = verdictOf(asked, changed, low);
  const finding = state(
    id,
    verdict,
    {
      ...words(changed, high, verdict),
      electrician: say('connectionWatts', { low, high, amps }),
      atS: [changed.sinceS, changed.sinceS],
      required: verdict !== 'marginal',
    },
    limit.source,
    limit.unit,
  );
  return {
    ...finding,
    measured: watts,
    limit: limit.value,
    margin: limit.value - watts,
    interval: [low, high],
  };
}

/**
 * Underpowered where full load, with the ohms as they are now, surely misses the plate's limit.
 * What certainly heats more than a contact that glowed goes on growing: nothing is proven by what
 * it is today. The rest is advice.
 */
function verdictOf(asked: Asked, changed: ConnectionEvidence, leastWatts: Watts): Verdict {
  const { rated } = asked;
  const foretold = rated === null ? null : fullLoadVolts(asked, rated, asked.supply);
  if (!changed.confirmed) return 'unproven';
  const least = rated === null ? 0 : limits.plateLow.value * rated.U1;
  if (foretold !== null && foretold.hi < least) return 'underpowered';
  const near = foretold !== null && foretold.lo < least;
  return near || leastWatts > limits.contactWatts.value ? 'unproven' : 'marginal';
}

function words(changed: ConnectionEvidence, watts: Watts, verdict: Verdict): Said {
  const { kind, ohmsBefore: before, ohmsAfter: after, sinceS: atS, confirmed } = changed;
  const figures = { before, after, watts, atS };
  if (!confirmed) return say('connectionPerhaps', figures);
  if (verdict === 'marginal') return say('connectionSmall', figures);
  if (kind === 'grown') return say('connectionGrew', figures);
  return say(kind === 'heats' ? 'connectionHeats' : 'connectionWanders', figures);
}
