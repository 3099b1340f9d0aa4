import { afterEach, expect, test } from 'vitest';
import { chosenUnits } from '../../dashboard/web/src/parts/preferences.ts';
import { type Chosen, listsOf, newNeed } from '../../dashboard/web/src/plan/plan-wish.ts';

afterEach(() => {
  chosenUnits.value = '';
});

const needOf = (wire: string) => {
  const wish: Chosen = {
    ...{ machines: [], circuits: [], feeders: [], needs: [{ ...newNeed('floor'), wire }] },
    pasted: { machines: '', circuits: '', needs: '' },
  };
  return (listsOf(wish).needs as Record<string, unknown>[])[0];
};

test('a wire is typed in the units of the device and sent in inches', () => {
  chosenUnits.value = 'us';
  expect(needOf('0.035')).toMatchObject({ wireInches: 0.035 });
  chosenUnits.value = 'metric';
  expect(needOf('0,8')!.wireInches).toBeCloseTo(0.0315, 4);
  // What is no figure goes on as it is, for the server to refuse by its path.
  expect(needOf('thin')).toMatchObject({ wireInches: 'thin' });
  expect(needOf(' ')).not.toHaveProperty('wireInches');
});

test('a line keeps the unit that it was typed in when the units of the device change', () => {
  chosenUnits.value = 'metric';
  const line = { ...newNeed('floor'), wire: '1' };
  chosenUnits.value = 'us';
  const lists = listsOf({
    ...{ machines: [], circuits: [], feeders: [], needs: [line] },
    pasted: { machines: '', circuits: '', needs: '' },
  });
  expect((lists.needs as { wireInches: number }[])[0]!.wireInches).toBeCloseTo(0.0394, 4);
});
