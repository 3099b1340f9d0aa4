import { expect, test } from 'vitest';
import { lineAt } from '../../dashboard/web/src/parts/pair-marks.ts';

const x = [0, 1, 2, 3, 4, 5, 6];

test('a mark stands on its line, between two values or on one', () => {
  expect(lineAt(x, [10, 20, 30, 40, 50, 60, 70], 2, 2.25)).toBe(32.5);
  expect(lineAt(x, [10, 20, 30, 40, 50, 60, 70], 3, 2.75)).toBe(37.5);
  expect(lineAt(x, [10, 20, 30, 40, 50, 60, 70], 2, 2)).toBe(30);
});

test('pairs that were read in turn hold each other’s gaps; a wide one has no line', () => {
  expect(lineAt(x, [10, null, null, 40, null, null, 70], 4, 4)).toBe(50);
  expect(lineAt(x, [10, null, null, null, null, null, 70], 3, 3)).toBe(40);
  expect(lineAt([...x, 7, 8], [10, null, null, null, null, null, null, null, 90], 4, 4)).toBeNull();
});

test('before the first value and after the last there is no line', () => {
  expect(lineAt(x, [null, null, null, null, 50, 60, 70], 0, 0.5)).toBeNull();
  expect(lineAt([5, 6], [50, 60], 0, 1)).toBeNull();
  expect(lineAt([5, 6], [50, 60], 1, 9)).toBeNull();
});
