import { describe, expect, test } from 'vitest';
import { differing } from '../../dashboard/web/src/shop/differing.ts';
import { toldInWords } from '../../dashboard/web/src/shop/told.ts';
import { Circuit } from '../../shared/protocol/circuit.ts';
import { KeptFeeder } from '../../shared/protocol/feeder.ts';
import { Plate } from '../../shared/protocol/plate.ts';
import { fieldName as german } from '../../shared/words/de/field-names.ts';
import { fieldName as english } from '../../shared/words/en/field-names.ts';

test('two versions differ by place, and where one has nothing', () => {
  const mine = { name: 'Tern 100', supply: [{ U1: 120, I1max: 23 }], pulse: false };
  const theirs = { name: 'Tern 100', supply: [{ U1: 120, I1max: 20 }, { U1: 240 }], hertz: [60] };
  expect(differing(mine, theirs)).toEqual([
    { path: 'supply[0].I1max', mine: '23', theirs: '20' },
    { path: 'pulse', mine: 'false', theirs: '' },
    { path: 'supply[1].U1', mine: '', theirs: '240' },
    { path: 'hertz[0]', mine: '', theirs: '60' },
  ]);
  expect(differing(mine, structuredClone(mine))).toEqual([]);
});

describe('versions, as people compare them,', () => {
  const feeder = { volts: 240, conductor: { kcmil: 250, feet: 80, metal: 'copper' }, atOnce: 1 };
  const now = { volts: 240, conductor: { awg: 6, feet: 80 }, atOnce: 2 };
  const plate = {
    ...{ hertz: [50, 60], pulse: true, wireInches: [0.03, 0.035], processes: ['mig-steel'] },
    ratings: [{ X: 0.2, I2: 90, U2: 18.5 }],
  };
  const lines = (mine: object, theirs: object, name: (path: string) => string) =>
    differing(toldInWords(mine), toldInWords(theirs)).map(
      ({ path, mine, theirs }) => `${name(path)} ${mine} (${theirs})`,
    );

  test('are in words, sizes whole', () => {
    expect(lines(feeder, now, english)).toEqual([
      'conductor size 250 kcmil (6 AWG)',
      'conductor metal copper ()',
      'burning at once 1 (2)',
    ]);
    expect(lines(plate, {}, english)).toEqual([
      'hertz 50 / 60 ()',
      'pulse yes ()',
      'wire 0.03 0.035 in ()',
      'set up for MIG on steel ()',
      'output 1 duty 20 % ()',
      'output 1 I₂ 90 ()',
      'output 1 U₂ 18.5 ()',
    ]);
  });

  test('have a word for every field in both languages', () => {
    const keysOf = (schema: object): string[] =>
      Object.entries(schema).flatMap(([key, each]) =>
        typeof each !== 'object' || each === null
          ? []
          : [...(key === 'properties' ? Object.keys(each) : []), ...keysOf(each)],
      );
    const told = ['awg', 'mm2', 'kcmil', 'feet', 'metres'];
    const fields = [Plate, Circuit, KeptFeeder].flatMap(keysOf);
    const named = [...new Set([...fields, 'gauge', 'length'])].filter((key) => !told.includes(key));
    expect(named.length).toBeGreaterThan(25);
    const same = ['name', 'phases', 'hertz', 'dedicated', 'branch', 'conductor', 'metal'];
    const also = ['length', 'supply', 'pulse', 'circuits'];
    expect(named.filter((key) => german(key) === key)).toEqual([]);
    expect(named.filter((key) => english(key) === key).sort()).toEqual([...same, ...also].sort());
  });
});
