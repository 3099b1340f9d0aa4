import type { Cord } from '../protocol/circuit.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { CordOhms } from './cord-drop.ts';
import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { compare, notAsked, type Reading, state } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { limits } from './limits.ts';
import { leastAmpacity } from './welder-ampacity.ts';
import { cordAmpacity, cordGauges, gaugeName, lengthName, ohmsPerMetre, runOhms } from './wire.ts';
import { machineVolts } from './wiring.ts';
import { amps, percent } from './words.ts';

const id = 'cord';
type Asked = Setting & { supply: SupplyEvidence };
const none: CordOhms = { ohms: 0, lo: 0, hi: 0 };
/** No longer cord is proposed, whatever the supply could bear: 100 m is past any shop's use. */
const longestMetres = 100;

export const cord: Rule<Asked> = {
  id,
  asks: 'gauge and ampacity; share of the total drop; longest cord of each gauge that passes',
  required: 'never',
  limits: [limits.cordAmpacity, limits.ampacityMetric, limits.plateLow],
  ask(asked) {
    const { circuit, rated, plate } = asked;
    const cords = circuit?.cords ?? [];
    if (rated === null || cords.length === 0)
      return [notAsked(id, limits.cordAmpacity, 'No cord, or no rating plate, is described.')];
    const least = leastAmpacity(rated, plate?.ratings);
    return [...cords.map((each) => ampacity(each, least)), ...lengths(asked, rated)];
  },
};

function ampacity(each: Cord, least: number): Finding {
  const carries = cordAmpacity(each);
  const source = each.mm2 === undefined ? limits.cordAmpacity : limits.ampacityMetric;
  const limit = { ...source, value: least, unit: 'A' };
  return compare(id, { value: carries, lo: carries, hi: carries }, limit, 'more', () => ({
    says:
      `The ${lengthName(each)} cord of ${gaugeName(each)} may carry ${amps(carries)}; ` +
      `${amps(least)} effective is asked. Uncoil it fully.`,
  }));
}

/** Needs the supply without its cords: measured at the outlet, or the machine's less the cord's. */
function lengths(asked: Asked, rated: PlateSupply): Finding[] {
  const bare = withoutCords(asked);
  const before = fullLoadVolts(bare.setting, rated, bare.supply, none);
  const after = fullLoadVolts(asked, rated, asked.supply);
  if (before === null || after === null) return [];
  const open = machineVolts(
    asked.supply.pairs.map((view) => view?.openVolts ?? 0),
    asked.perPair,
  );
  const all = open - after.value;
  const share = all > 0 ? (before.value - after.value) / all : 0;
  const fits = longestCords(bare.setting, rated, bare.supply);
  const list = fits.map(({ awg, feet }) => `${awg} AWG ${feet} ft`).join(', ');
  return [
    {
      ...state(
        id,
        'adequate',
        {
          says:
            `The cord takes ${percent(Math.max(0, share), 0)} of the whole drop. ` +
            (list === '' ? 'No cord would pass here.' : `Longest that pass: ${list}.`),
        },
        limits.plateLow.source,
        '1',
      ),
      measured: share,
    },
  ];
}

function withoutCords(asked: Asked): { setting: Setting; supply: SupplyEvidence } {
  const setting: Setting = { ...asked };
  if (asked.circuit?.sensorAt !== 'machine') return { setting, supply: asked.supply };
  const conductors = asked.perPair === 1 ? 2 : 1;
  const ohms = (asked.circuit.cords ?? []).reduce(
    (sum, each) => sum + conductors * runOhms(each, 'flexible', 40),
    0,
  );
  const pairs = asked.supply.pairs.map(
    (view) => view && { ...view, ohmsR: Math.max(0, view.ohmsR - ohms) },
  );
  return { setting, supply: { ...asked.supply, pairs } };
}

/** For each gauge that may carry the current, the longest cord, feet in fives, that passes. */
export function longestCords(
  setting: Setting,
  rated: PlateSupply,
  supply: SupplyEvidence,
): { awg: number; feet: number }[] {
  const needs = limits.plateLow.value * rated.U1;
  const least = leastAmpacity(rated, setting.plate?.ratings);
  const conductors = setting.perPair === 1 ? 2 : 1;
  const passes = (awg: number, metres: number) => {
    const at = (celsius: number) =>
      conductors * metres * ohmsPerMetre({ awg }, 'copper', 'flexible', celsius);
    const volts: Reading | null = fullLoadVolts(setting, rated, supply, {
      ohms: at(40),
      lo: at(20),
      hi: at(60),
    });
    return volts !== null && volts.lo >= needs;
  };
  return cordGauges
    .filter((awg) => cordAmpacity({ awg }) >= least)
    .map((awg) => ({ awg, feet: longestFeet((feet) => passes(awg, feet * 0.3048)) }))
    .filter(({ feet }) => feet > 0);
}

/** Voltage falls with length, so halving finds the border. */
function longestFeet(passes: (feet: number) => boolean): number {
  let good = 0;
  let bad = Math.floor(longestMetres / 0.3048 / 5) + 1;
  while (bad - good > 1) {
    const middle = Math.floor((good + bad) / 2);
    if (passes(middle * 5)) good = middle;
    else bad = middle;
  }
  return good * 5;
}
