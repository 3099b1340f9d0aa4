import { describe, expect, test } from 'vitest';
import {
  type FieldText,
  faultsByPath,
  formValue,
} from '../../dashboard/web/src/shop/form-value.ts';

const field = (path: string, kind: FieldText['kind'], text: string): FieldText => ({
  path,
  kind,
  text,
});

describe('what a form describes', () => {
  test('a plate, with lists in order, percent as a part, and the empty left out', () => {
    const value = formValue([
      field('name', 'text', ' Tern 100 '),
      field('phases', 'number', '1'),
      field('hertz', 'numbers', '50 60'),
      field('supply[0].U1', 'number', '120'),
      field('supply[0].I1max', 'number', '23,5'),
      field('supply[0].I1eff', 'number', ''),
      field('ratings[0].X', 'percent', '20'),
      field('ratings[0].I2', 'number', '90'),
      field('pulse', 'flag', 'no'),
      field('wireInches', 'numbers', '0.023, 0.030'),
    ]);
    expect(value).toEqual({
      name: 'Tern 100',
      phases: 1,
      hertz: [50, 60],
      supply: [{ U1: 120, I1max: 23.5 }],
      ratings: [{ X: 0.2, I2: 90 }],
      pulse: false,
      wireInches: [0.023, 0.03],
    });
  });

  test('thickness and length carry their unit as a key; 1/0 stays as the trade writes it', () => {
    const value = formValue([
      field('branch.gauge', 'gauge', 'awg 1/0'),
      field('branch.length', 'length', 'feet 65'),
      field('cords[0].gauge', 'gauge', 'mm2 2.5'),
      field('cords[0].length', 'length', 'metres 7.5'),
      field('cords[1].gauge', 'gauge', ''),
    ]);
    expect(value).toEqual({
      branch: { awg: '1/0', feet: 65 },
      cords: [{ mm2: 2.5, metres: 7.5 }],
    });
  });

  test('sizes of wire with a comma in them, and with commas between them', () => {
    const sizes = (text: string) => formValue([field('w', 'numbers', text)]);
    for (const text of ['0,023 0,03', '0.023, 0.03', '0.023,0.03', '0,023; 0,03', '.023 .03'])
      expect(sizes(text)).toEqual({ w: [0.023, 0.03] });
  });

  test('text that is no number goes on as it is, for the server to refuse by its path', () => {
    const value = formValue([field('volts', 'number', 'two')]);
    expect(value).toEqual({ volts: 'two' });
  });
});

test('the server’s sentence falls apart into faults by path', () => {
  const faults = faultsByPath('supply[0].I1max must be number; name is missing; Nothing answers.');
  expect(faults.get('supply[0].I1max')).toBe('must be number');
  expect(faults.get('name')).toBe('is missing');
  expect([...faults.values()]).toHaveLength(3);
});
