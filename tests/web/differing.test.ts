import { expect, test } from 'vitest';
import { differing } from '../../dashboard/web/src/shop/differing.ts';

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
