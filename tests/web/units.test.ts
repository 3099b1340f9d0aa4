import fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import { clock, day, figure, plain, typed } from '../../dashboard/web/src/parts/format.ts';
import {
  chosenLanguage,
  chosenUnits,
  chosenZone,
  heardShopSettings,
  language,
  timeZone,
  units,
} from '../../dashboard/web/src/parts/preferences.ts';
import {
  feetOf,
  gaugeChoices,
  gaugeOfChoice,
  gaugeText,
  gaugeUnit,
  lengthText,
  lengthUnit,
  metresOf,
  mm2Of,
} from '../../dashboard/web/src/parts/units.ts';
import { speak } from '../../dashboard/web/src/parts/words.ts';

const page = { documentElement: { lang: '' } };
Object.assign(globalThis, { document: page });

async function speakIn(tongue: string): Promise<void> {
  chosenLanguage.value = tongue;
  await speak();
}

afterEach(async () => {
  chosenUnits.value = '';
  chosenZone.value = '';
  heardShopSettings({ hertz: 60, units: 'us', language: null, timeZone: null });
  await speakIn('en');
});

describe('figures', () => {
  test('keep their decimals, know a minus and a dash', () => {
    expect(figure(12.34)).toBe('12.3');
    expect(figure(-0.54, 2)).toBe('−0.54');
    expect(figure(-0.01)).toBe('0.0');
    expect(figure(12_345.6, 0)).toBe('12346');
    expect([figure(null), figure(Number.NaN), figure(undefined)]).toEqual(['–', '–', '–']);
  });

  test('have a comma in German', async () => {
    await speakIn('de');
    expect(page.documentElement.lang).toBe('de');
    expect([figure(1234.56, 2), figure(-1), plain(0.75)]).toEqual(['1234,56', '−1,0', '0,75']);
    await speakIn('en');
    expect(figure(1234.56, 2)).toBe('1234.56');
  });

  test.each(['en', 'de'])('what was written in %s is read back as it was', async (tongue) => {
    await speakIn(tongue);
    fc.assert(
      fc.property(fc.integer({ min: -1_000_000, max: 1_000_000 }), (thousandths) => {
        expect(typed(plain(thousandths / 1_000))).toBe(thousandths / 1_000 || 0);
      }),
    );
  });

  test('a comma and a point both part a figure; words are none', () => {
    expect([typed(' 2,5 '), typed('2.5'), typed('−4')]).toEqual([2.5, 2.5, -4]);
    expect([typed(''), typed('12 ft'), typed('1,234.5'), typed('Infinity')]).toEqual(
      Array(4).fill(null),
    );
  });
});

describe('times', () => {
  const noon = '2026-01-15T12:00:00Z';

  test('stand in the zone of the device, then of the shop', () => {
    heardShopSettings({ hertz: 60, units: 'us', language: null, timeZone: 'Asia/Tokyo' });
    expect(clock(noon)).toMatch(/^0?9:00:00\sPM$/);
    chosenZone.value = 'America/Chicago';
    expect(clock(noon)).toMatch(/^0?6:00:00\sAM$/);
  });

  test('a zone that nobody knows counts as none', () => {
    chosenZone.value = 'Nowhere/Atlantis';
    expect(timeZone.value).toBe(undefined);
  });

  test('are written as the language writes them', async () => {
    chosenZone.value = 'UTC';
    expect(day(noon)).toBe('Jan 15, 2026');
    await speakIn('de');
    expect([day(noon), clock(noon)]).toEqual(['15. Jan. 2026', '12:00:00']);
  });
});

describe('lengths and sizes', () => {
  test('stay as they were given, and say so in other units', async () => {
    expect(lengthText({ feet: 25 })).toBe('25 ft');
    expect(lengthText({ metres: 10 })).toBe('32.8 ft (10 m)');
    chosenUnits.value = 'metric';
    expect(lengthText({ feet: 25 })).toBe('7.62 m (25 ft)');
    expect(lengthText({ metres: 7.5 })).toBe('7.5 m');
    await speakIn('de');
    expect(lengthText({ feet: 25 })).toBe('7,62 m (25 ft)');
  });

  test('no size becomes the nearest one of the other standard', () => {
    expect(gaugeText({ awg: 12 })).toBe('12 AWG');
    expect(gaugeText({ mm2: 2.5 })).toBe('2.5 mm² (between 14 and 12 AWG)');
    expect(gaugeText({ mm2: 0.3 })).toBe('0.3 mm² (thinner than 20 AWG)');
    expect(gaugeText({ mm2: 120 })).toBe('120 mm² (4/0 AWG or thicker)');
    chosenUnits.value = 'metric';
    expect(gaugeText({ awg: 12 })).toBe('12 AWG (3.31 mm²)');
    expect(gaugeText({ mm2: 2.5 })).toBe('2.5 mm²');
  });

  test('the sizes of the device’s own standard stand first among the choices', () => {
    const values = () => gaugeChoices([12], [2.5]).map(([value]) => value);
    expect(values()).toEqual(['awg 12', 'mm2 2.5']);
    chosenUnits.value = 'metric';
    expect(values()).toEqual(['mm2 2.5', 'awg 12']);
    expect(gaugeOfChoice('awg 1/0')).toBe('1/0 AWG (53.48 mm²)');
    expect(gaugeOfChoice('mm2 7')).toBe('7 mm²');
  });

  test('sections are those of ASTM B258', () => {
    expect(mm2Of(14)).toBeCloseTo(2.08, 2);
    expect(mm2Of('4/0')).toBeCloseTo(107.2, 1);
    expect(mm2Of('1/0')).toBeCloseTo(53.49, 1);
  });

  test('there and back is where it began', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1_000, noNaN: true }), (feet) => {
        expect(feetOf({ metres: metresOf({ feet }) })).toBeCloseTo(feet, 9);
      }),
    );
  });

  test('new ones are typed in the units of the device, then of the shop', () => {
    expect([lengthUnit(), gaugeUnit()]).toEqual(['feet', 'awg']);
    heardShopSettings({ hertz: 50, units: 'metric', language: 'de', timeZone: null });
    expect([lengthUnit(), gaugeUnit(), units.value]).toEqual(['metres', 'mm2', 'metric']);
    chosenUnits.value = 'us';
    expect([lengthUnit(), gaugeUnit()]).toEqual(['feet', 'awg']);
  });
});

test('the language is the device’s, else the shop’s, else the browser’s, else English', () => {
  chosenLanguage.value = '';
  heardShopSettings({ hertz: 50, units: 'metric', language: 'de', timeZone: null });
  expect(language()).toBe('de');
  chosenLanguage.value = 'en';
  expect(language()).toBe('en');
});
