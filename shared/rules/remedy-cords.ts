import type { Cord } from '../protocol/circuit.ts';
import { sameAir } from './ampacity.ts';
import type { Case, Passes, Proposal } from './remedy-change.ts';
import { say } from './say.ts';
import { cordGauges, lengthMetres, metresPerFoot, metricCordGauges } from './wire.ts';

/** No longer one is proposed, and a shorter one reaches nothing. */
const feet = { most: 300, least: 6 } as const;

type Unit = 'feet' | 'metres';

/** Only where a cord is in use: the same length thicker, none, or the longest of each gauge. */
export function cordProposals(at: Case, passes: Passes): Proposal[] {
  const cords = at.setting.circuit?.cords ?? [];
  if (cords.length === 0) return [];
  const unit: Unit = cords.some(({ metres }) => metres !== undefined) ? 'metres' : 'feet';
  const reach = cords.reduce((sum, cord) => sum + lengthMetres(cord), 0);
  const here = unit === 'metres' ? reach : reach / metresPerFoot;
  const metric = cords.some(({ mm2 }) => mm2 !== undefined);
  const air = sameAir(cords);
  const gauges: Cord[] = metric
    ? metricCordGauges.map((mm2) => ({ mm2, ...air }))
    : cordGauges.map((awg) => ({ awg, ...air }));
  const longest = gauges.map((gauge) => longestCord(gauge, unit, passes)).filter((each) => !!each);
  const same = longest.find((cord) => cord[unit]! >= here);
  const none: Proposal = {
    change: { kind: 'cords', cords: [] },
    ...say('plugInDirectly'),
  };
  return [
    ...(same ? [sameReach({ ...same, [unit]: Math.round(here * 10) / 10 })] : []),
    none,
    ...longest.filter((cord) => cord !== same).map(shorter),
  ];
}

const sameReach = (cord: Cord): Proposal => ({
  change: { kind: 'cords', cords: [cord] },
  ...say('cordSameLength', { cord }),
});

const shorter = (cord: Cord): Proposal => ({
  change: { kind: 'cords', cords: [cord] },
  ...say('cordUpTo', { cord }),
});

/**
 * Longest single cord of a gauge that passes, or null where not even a short one does. Rounded
 * down: to whole units from twenty up, else to tenths, so within 5 % of the border.
 */
export function longestCord(gauge: Cord, unit: Unit, passes: Passes): Cord | null {
  const scale = unit === 'feet' ? 1 : metresPerFoot;
  const cordOf = (length: number): Cord => ({ ...gauge, [unit]: length });
  const good = (length: number) => passes({ kind: 'cords', cords: [cordOf(length)] });
  let low = feet.least * scale;
  let high = feet.most * scale;
  if (!good(low)) return null;
  if (good(high)) return cordOf(Math.floor(high));
  // Voltage falls with length, so halving finds the border.
  while (high - low > 1e-3) {
    const middle = (low + high) / 2;
    if (good(middle)) low = middle;
    else high = middle;
  }
  return cordOf(low >= 20 ? Math.floor(low) : Math.floor(low * 10) / 10);
}
