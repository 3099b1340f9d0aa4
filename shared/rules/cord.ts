import type { Cord } from '../protocol/circuit.ts';
import type { Finding } from '../protocol/judgement.ts';
import type { PlateSupply } from '../protocol/plate.ts';
import type { Amperes, Ohms } from '../units.ts';
import { cordAmpacity, type Loaded, loadedConductors, sameAir } from './ampacity.ts';
import { type CordOhms, copperCelsius } from './cord-drop.ts';
import type { Rule, Setting, SupplyEvidence } from './facts.ts';
import { compare, notAsked, state } from './finding.ts';
import { fullLoadVolts } from './foretell.ts';
import { limits } from './limits.ts';
import { wiresInLoop } from './loops.ts';
import { say } from './say.ts';
import { leastAmpacity } from './welder-ampacity.ts';
import { cordGauges, metresPerFoot, metricCordGauges, ohmsPerMetre, runOhms } from './wire.ts';
import { openMachineVolts } from './wiring.ts';

const id = 'cord';
type Asked = Setting & { supply: SupplyEvidence };
const none: CordOhms = { ohms: 0, lo: 0, hi: 0 };
/** No longer cord is proposed, whatever the supply could bear: 100 m is past any shop's use. */
const longestMetres = 100;
const copperAt = (celsius: number) =>
  ohmsPerMetre({ mm2: 1 }, 'copper', 'flexible', celsius) /
  ohmsPerMetre({ mm2: 1 }, 'copper', 'flexible', copperCelsius.taken);
/** Copper's ohms at either end of a cord's range over those at the temperature taken. */
const copperCold = copperAt(copperCelsius.lo);
const copperHot = copperAt(copperCelsius.hi);

export const cord: Rule<Asked> = {
  id,
  asks: 'gauge and ampacity; share of the total drop; longest cord of each gauge that passes',
  required: 'never',
  limits: [limits.cordAmpacity, limits.cordAmpacityMetric, limits.plateLow, limits.dropTotal],
  ask(asked) {
    const { circuit, rated, plate } = asked;
    const cords = circuit?.cords ?? [];
    if (rated === null || circuit === null)
      return [notAsked(id, limits.cordAmpacity, say('noCord'))];
    const least = leastAmpacity(rated, plate?.ratings);
    const loaded = loadedConductors(circuit, plate);
    const draws = { least, full: rated.I1max, loaded };
    const findings = [...cords.map((each) => ampacity(each, draws)), ...lengths(asked, rated)];
    if (findings.length > 0) return findings;
    return [notAsked(id, limits.cordAmpacity, say('noCord'))];
  },
};

/** What a machine draws through a cord: effective, and at its plate's full current. */
interface Draws {
  least: Amperes;
  full: Amperes;
  loaded: Loaded;
}

/** Held against the effective current, which heats it; the full one is told beside it. */
function ampacity(each: Cord, draws: Draws): Finding {
  const carries = cordAmpacity(each, draws.loaded);
  const source = each.mm2 === undefined ? limits.cordAmpacity : limits.cordAmpacityMetric;
  const limit = { ...source, value: draws.least, unit: 'A' };
  return compare(id, { value: carries, lo: carries, hi: carries }, limit, 'more', () => ({
    ...say('cordCarries', { cord: each, carries, ...draws }),
    electrician: say('cordFull', { enough: carries >= draws.full }),
  }));
}

/** Needs the supply without its cords: measured at the outlet, or the machine's less the cord's. */
function lengths(asked: Asked, rated: PlateSupply): Finding[] {
  const bare = withoutCords(asked);
  const before = fullLoadVolts(bare.setting, rated, bare.supply, none);
  const after = fullLoadVolts(asked, rated, asked.supply);
  if (before === null || after === null) return [];
  const open = openMachineVolts(asked.supply.pairs);
  const all = open - after.value;
  const share = all > 0 ? Math.max(0, (before.value - after.value) / all) : 0;
  const corded = (asked.circuit?.cords ?? []).length > 0;
  const longest = longestCords(bare.setting, rated, bare.supply);
  const words = say('cordLengths', {
    share: corded ? share : null,
    longest,
    usual: limits.dropTotal.value,
  });
  return [
    {
      ...state(id, 'adequate', words, limits.plateLow.source, '1'),
      measured: corded ? share : null,
    },
  ];
}

function withoutCords(asked: Asked): { setting: Setting; supply: SupplyEvidence } {
  const setting: Setting = { ...asked };
  if (asked.circuit?.sensorAt !== 'machine') return { setting, supply: asked.supply };
  const conductors = wiresInLoop(asked);
  const ohms = (asked.circuit.cords ?? []).reduce(
    (sum, each) => sum + conductors * runOhms(each, 'flexible', 40),
    0,
  );
  const pairs = asked.supply.pairs.map(
    (view) => view && { ...view, ohmsR: Math.max(0, view.ohmsR - ohms) },
  );
  return { setting, supply: { ...asked.supply, pairs } };
}

/** Sizes and steps in which cords are told: as the circuit's own wires are. */
const usual = {
  feet: { sizes: cordGauges.map((awg): Cord => ({ awg })), step: 5 * metresPerFoot },
  metres: { sizes: metricCordGauges.map((mm2): Cord => ({ mm2 })), step: 1 },
} as const;

/** The longest cord of a size that passes, and what of it keeps to the advice for all drop. */
export type LongestCord = Cord & { usual: Pick<Cord, 'feet' | 'metres'> | null };

/**
 * For each size that may carry the current, the longest cord that passes, in whole steps, and the
 * longest that keeps the whole drop to the usual advice. All are copper, so one figure of ohms at
 * the temperature taken is the border for every size.
 */
export function longestCords(
  setting: Setting,
  rated: PlateSupply,
  supply: SupplyEvidence,
): LongestCord[] {
  const least = leastAmpacity(rated, setting.plate?.ratings);
  const loaded = loadedConductors(setting.circuit, setting.plate);
  const unit = isMetric(setting.circuit) ? 'metres' : 'feet';
  const { sizes, step } = usual[unit];
  const air = sameAir(setting.circuit?.cords ?? []);
  const fit = sizes.filter((size) => cordAmpacity({ ...size, ...air }, loaded) >= least);
  const perMetre = (size: Cord) =>
    wiresInLoop(setting) * ohmsPerMetre(size, 'copper', 'flexible', copperCelsius.taken);
  const [thinnest] = fit;
  if (thinnest === undefined) return [];
  const most = longestMetres * perMetre(thinnest);
  const border = mostOhms(spareVolts(setting, rated, supply), most);
  if (border === 0) return [];
  const advised = mostOhms(spareDrop(setting, rated, supply), border);
  const steps = (ohms: Ohms, size: Cord) =>
    Math.floor(Math.min(ohms / perMetre(size), longestMetres) / step);
  const run = (count: number) => ({ [unit]: unit === 'feet' ? 5 * count : count });
  return fit.flatMap((size) => {
    const count = steps(border, size);
    if (count === 0) return [];
    const few = steps(advised, size);
    return [{ ...size, ...run(count), usual: few === 0 ? null : run(few) }];
  });
}

type Spare = (ohms: Ohms) => number;

/** Volts that the lower end of the interval has over the plate's least, behind so many ohms. */
function spareVolts(setting: Setting, rated: PlateSupply, supply: SupplyEvidence): Spare {
  const needs = limits.plateLow.value * rated.U1;
  return (ohms) => {
    const added = { ohms, lo: ohms * copperCold, hi: ohms * copperHot };
    return (fullLoadVolts(setting, rated, supply, added)?.lo ?? 0) - needs;
  };
}

/** The same over what the usual advice leaves of the no-load voltage: advice, so no interval. */
function spareDrop(setting: Setting, rated: PlateSupply, supply: SupplyEvidence): Spare {
  const open = openMachineVolts(supply.pairs);
  const least = (1 - limits.dropTotal.value) * open;
  return (ohms) => {
    const added = { ohms, lo: ohms, hi: ohms };
    return (fullLoadVolts(setting, rated, supply, added)?.value ?? 0) - least;
  };
}

/** Part of the range that is near enough to the border; a step of the list is hundreds of it. */
const nearEnough = 1e-5;
const mostTries = 40;

/**
 * Most ohms of copper that the voltage bears, up to `most`. It falls with them all the way and all
 * but straight, so a chord finds the border in a handful of tries where halving takes twenty: false
 * position, the staying end's value halved (Dowell and Jarratt's Illinois rule).
 */
function mostOhms(spare: Spare, most: Ohms): Ohms {
  let good = { ohms: 0, spare: spare(0) };
  let bad = { ohms: most, spare: spare(most) };
  if (good.spare < 0) return 0;
  if (bad.spare >= 0) return most;
  for (let tries = 0; tries < mostTries && bad.ohms - good.ohms > nearEnough * most; tries++) {
    const part = good.spare / (good.spare - bad.spare);
    const ohms = good.ohms + Math.min(Math.max(part, 1e-4), 1 - 1e-4) * (bad.ohms - good.ohms);
    const next = { ohms, spare: spare(ohms) };
    if (next.spare >= 0) {
      good = next;
      bad = { ...bad, spare: bad.spare / 2 };
    } else {
      bad = next;
      good = { ...good, spare: good.spare / 2 };
    }
  }
  return good.ohms;
}

const isMetric = (circuit: Setting['circuit']): boolean =>
  [...(circuit?.cords ?? []), circuit?.branch].some(
    (run) => run?.mm2 !== undefined || run?.metres !== undefined,
  );
