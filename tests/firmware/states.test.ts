import { describe, expect, test } from 'vitest';
import {
  type CaptureState,
  captureEvents,
  captureStates,
  captureTable,
  type LinkState,
  linkEvents,
  linkStates,
  linkTable,
} from '../../simulator/firmware/states.ts';

const captureSteps = captureStates.flatMap((state) =>
  captureEvents.map((event) => ({ state, event, ...captureTable[state][event] })),
);
const linkSteps = linkStates.flatMap((state) =>
  linkEvents.map((event) => ({ state, event, ...linkTable[state][event] })),
);

function reached<State extends string>(from: State, steps: { state: State; to: State }[]) {
  const found = new Set<State>([from]);
  for (let before = 0; before !== found.size; ) {
    before = found.size;
    for (const { state, to } of steps) if (found.has(state)) found.add(to);
  }
  return [...found].sort();
}

describe('the capture table', () => {
  test('every state is reached, and every state leads back to watching', () => {
    expect(reached('watching', captureSteps)).toEqual([...captureStates].sort());
    for (const state of captureStates)
      expect(reached(state, captureSteps)).toContain<CaptureState>('watching');
  });

  test.each(captureSteps)('$state on $event: $act, $to', ({ state, event, to, act }) => {
    const burns = (of: CaptureState) => of === 'capturing';
    const open = (of: CaptureState) => of !== 'watching';
    // An arc begins and ends exactly where burning does; a capture opens and closes likewise.
    expect(act === 'open' || act === 'begin').toBe(!burns(state) && burns(to));
    expect(act === 'end' || act === 'end-close').toBe(burns(state) && !burns(to));
    expect(act === 'open').toBe(!open(state) && open(to));
    expect(act === 'close' || act === 'end-close').toBe(open(state) && !open(to));
    // Lost frames never end a capture, and always begin its history anew.
    if (event === 'torn') expect([to, act]).toEqual([state, 'flush']);
    if (event === 'halted') expect(to).toBe('watching');
    if (act === 'none') expect(to).toBe(state);
  });
});

describe('the link table', () => {
  test('every state is reached, and each is left when the link breaks', () => {
    expect(reached('down', linkSteps)).toEqual([...linkStates].sort());
    for (const state of linkStates) expect(linkTable[state].broke.to).toBe('down');
  });

  test.each(linkSteps)('$state on $event: $act, $to', ({ state, event, to, act }) => {
    // A new connection is always greeted; nothing is sent before it was.
    expect(act === 'greet').toBe(event === 'connected');
    const sends = (of: LinkState) => of === 'sending';
    if (!sends(state) && sends(to)) expect([state, act]).toEqual(['waiting', 'rewind']);
    if (state === 'down' && event !== 'connected') expect([to, act]).toEqual(['down', 'none']);
  });
});
