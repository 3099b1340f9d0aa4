import { expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { plan } from '../../shared/rules/planning.ts';
import { remedies } from '../../shared/rules/remedies.ts';
import { planning } from '../../shared/words/en/planning.ts';
import { proposals } from '../../shared/words/en/proposals.ts';
import { setting, supply } from './given.ts';
import { circuit, machine, need } from './planning-given.ts';
import { expectBothLanguages, toldIn, unsaid } from './sayings.ts';

const light: Plate = {
  name: 'light',
  phases: 1,
  supply: [
    { U1: 120, I1max: 20, I1eff: 11 },
    { U1: 240, I1max: 10, I1eff: 6 },
  ],
  ratings: [{ X: 0.3, I2: 90, U2: 18.5 }],
};
const { ratings: _, ...noOutput } = light;
const long = { cords: [{ awg: 16, feet: 75.5 }] };
const metric = { branch: { mm2: 2.5, metres: 20.5 }, cords: [{ mm2: 1.5, metres: 25.5 }] };
const thin = { cords: [], branch: { awg: 14, feet: 20 }, breakerAmps: 15 };
const weak = { openVolts: 120, ohmsR: 0.3, ohmsX: 0.05 };
const good = { openVolts: 121, ohmsR: 0.1, ohmsX: 0.03 };

const at = (change: Partial<Circuit>, plate = light) => {
  const rated = plate.supply[0]!;
  const bay = { name: 'bay 1', volts: 120, phases: 1 as const, breakerAmps: 20 };
  const where: Circuit = { ...bay, branch: { awg: 12, feet: 65 }, ...change };
  return setting({ plate, rated, circuit: where, nominalVolts: rated.U1 });
};
const of = (...supply: Plate['supply']): Plate => ({ ...light, supply });

test('every remedy has names for what it says, and German says all of it', () => {
  const halls = [
    { name: 'Halle 4', volts: 120, supply: good },
    { name: 'Halle 5', volts: 240, branch: { awg: 8, feet: 40 } },
  ];
  const bench = { cords: [], volts: 240 };
  const high = { ohmsR: 0.05, openVoltsSd: 0 };
  const told = toldIn([
    remedies(at(long), supply(weak), { circuits: halls }),
    remedies(at(long, noOutput), supply(weak)),
    remedies(at(metric), supply(weak)),
    remedies(at({ cords: [{ awg: 16, feet: 200 }] }), supply({ ...weak, ohmsR: 0.8 })),
    remedies(at({ branch: { awg: 14, feet: 150 }, cords: [] }), supply({ ...weak, ohmsR: 0.95 })),
    remedies(at(thin, of({ U1: 120, I1max: 20, I1eff: 18 })), supply({ ...weak, ohmsR: 0.1 })),
    remedies(at({ cords: [] }), supply({ ...weak, openVolts: 113, ohmsR: 0.2 }), {
      otherLoadVolts: 6,
    }),
    remedies(setting({ circuit: { ...bench, name: 'b', volts: 208 } }), supply({ openVolts: 208 })),
    remedies(at(bench, of({ U1: 240, I1max: 30 })), supply({ ...high, openVolts: 267 })),
    remedies(at(bench, of({ U1: 240, I1max: 30 })), supply({ ...high, openVolts: 280 })),
  ]);
  expectBothLanguages(told, /Halle \d/g);
  expect(unsaid(proposals, told)).toEqual([]);
});

test('every sentence of a plan has a name, and German says all of it', () => {
  const { supply: __, ...named } = circuit();
  const described = { ...named, name: 'Hof', branch: { awg: 14, feet: 190 } };
  const guns = { guns: [{ name: 'Alu', processes: ['mig-steel' as const] }] };
  const dual = of({ U1: 240, I1max: 30 }, { U1: 120, I1max: 18 }).supply;
  const one = (m = {}, n = {}, c: object = {}) =>
    plan([machine(m)], [{ ...circuit(), ...c }], [need(n)]);
  const steel = { process: 'mig-steel' as const, wireInches: 0.03, pulse: false };
  const line = { openVolts: 121, ohmsR: 0.1, ohmsX: 0 };
  const feeder = { name: 'F', volts: 240, conductor: { awg: 4, feet: 90 }, circuits: ['bay 2'] };
  const offers = (...prices: number[]) =>
    prices.map((price, index) => machine({ name: `M${index}`, price }));
  const cheap = [
    ...[0.03, 0.047].map((wire) => machine({ name: `K${wire}`, price: 10, wireInches: [wire] })),
    machine({ name: 'M', price: 30.5 }),
  ];
  const twice = offers(1, 1).map((each) => ({ ...each, owned: true }));
  const told = toldIn([
    plan([machine()], [named, described, { ...described, volts: 230, hertz: 50 }], [need()]),
    one({ ...guns, processes: undefined }),
    one({ processes: ['mig-steel'], wireInches: [] }, { minSupplyVolts: 400 }),
    one({ wireInches: undefined, ratings: [] }),
    one({ ratings: [{ X: 0.4, I2: 179, U2: 23 }] }),
    one({ behaviour: 'constant-impedance' }, { minAmps: 219 }),
    one({ supply: dual }, { ...steel, minAmps: 400 }, { volts: 120, supply: line }),
    one({ supply: dual }, { minAmps: 60 }, { volts: 120, supply: line }),
    one({}, {}, { supply: { openVolts: 238, ohmsR: 1, ohmsX: 0 } }),
    one({}, {}, { supply: { openVolts: 238, ohmsR: 0.72, ohmsX: 0 } }),
    plan(offers(5, 5, 7.5), [circuit()], [need()], [feeder]),
    plan(cheap, [circuit()], [need(), need({ name: 'skins', wireInches: 0.03 })]),
    plan(twice, [circuit()], [need()]),
  ]);
  expectBothLanguages(told, /Hof/g);
  expect(unsaid(planning, told)).toEqual([]);
});
