import { expect, test } from 'vitest';
import { readRoute } from '../../dashboard/web/src/read-route.ts';

test.each([
  ['', { view: 'floor' }],
  ['#/', { view: 'floor' }],
  ['#/wall', { view: 'wall' }],
  ['#/flags', { view: 'flags', sensor: null }],
  ['#/flags/harbour-lane.yard', { view: 'flags', sensor: 'harbour-lane.yard' }],
  ['#/circuit/a%20b', { view: 'circuit', sensor: 'a b' }],
  ['#/arc/17', { view: 'arc', id: 17, beside: null }],
  ['#/arc/17/beside/23', { view: 'arc', id: 17, beside: 23 }],
  ['#/edit-plate/new', { view: 'edit-plate', id: null }],
  ['#/edit-circuit/4', { view: 'edit-circuit', id: 4 }],
  ['#/edit-feeder/new', { view: 'edit-feeder', id: null }],
])('%s', (hash, route) => {
  expect(readRoute(hash)).toEqual(route);
});

test.each(['#/arc/x', '#/arc', '#/circuit', '#/nowhere', '#/circuit/%E0%A4%A', '#content'])(
  '%s is no address here and leads to the floor',
  (hash) => {
    expect(readRoute(hash)).toEqual({ view: 'floor' });
  },
);
