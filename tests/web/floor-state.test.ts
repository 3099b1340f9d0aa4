import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import {
  arcs,
  broke,
  circuits,
  heardMs,
  missed,
  ordered,
  sharesCircuit,
  take,
  takeRows,
  weakArc,
  weakWelds,
} from '../../dashboard/web/src/live/floor-state.ts';
import { standing } from '../../dashboard/web/src/live/standing.ts';
import type { ArcSummary, Sensor } from '../../shared/protocol/http.ts';

const nowMs = 1_764_000_000_000;
const circuit = {
  ...{ id: 1, version: 1, changedAt: '2026-11-25T08:00:00Z', changedBy: null, retired: false },
  circuit: { name: 'Bay 1', volts: 120 },
};

const sensor = (id: string, more: Partial<Sensor> = {}): Sensor => ({
  ...{ id, slot: 0, name: id, site: 'here', at: 'machine', firmware: 'test', rateHz: 10_240 },
  ...{ pairs: 1, state: 'online', stateSince: new Date(nowMs).toISOString(), health: {} },
  heardAt: new Date(nowMs).toISOString(),
  ...{ circuit, plate: null, reading: null, openArc: null, lastArc: null, flags: 0, duty: null },
  ...more,
});

const summary = (id: number, more: Partial<ArcSummary> = {}): ArcSummary => ({
  ...{ id, sensor: 'a', durationS: 1, verdict: 'underpowered', says: 'It fell.' },
  startedAt: new Date(nowMs + id).toISOString(),
  endedAt: new Date(nowMs + id + 1_000).toISOString(),
  ...{ minVolts200ms: 100, meanAmps: 20, circuitName: null, plateName: null, acknowledged: null },
  ...{ twin: null, countedBy: null },
  ...more,
});

const hello = (sensors: Sensor[], known: ArcSummary[] = []) =>
  take({
    ...{ kind: 'hello', serial: 1, version: 1, server: 'one', nowMs, sensors, arcs: known },
  });

beforeEach(() => {
  vi.useFakeTimers({ now: nowMs, toFake: ['Date'] });
  heardMs.value = null;
  missed.value = null;
});
afterEach(() => {
  vi.useRealTimers();
});

describe('the floor as the feed tells it', () => {
  test('a circuit’s two sensors stand along the wire, and each knows of the other', () => {
    hello([sensor('m'), sensor('o', { at: 'outlet', slot: 1 }), sensor('x', { circuit: null })]);
    expect(ordered.value.map((each) => each.sensor.value.id)).toEqual(['o', 'm', 'x']);
    expect(sharesCircuit(circuits.value.get('m')!.sensor.value)).toBe(true);
    expect(sharesCircuit(circuits.value.get('x')!.sensor.value)).toBe(false);
  });

  test('an arc strikes, is judged, ends; the flag falls when somebody acknowledged it', () => {
    hello([sensor('a')]);
    const openArc = { startedAt: new Date(nowMs).toISOString(), arc: null };
    take({ kind: 'arc-began', serial: 2, sensor: 'a', openArc });
    const at = circuits.value.get('a')!;
    expect(at.sensor.value.state).toBe('arc');
    take({
      ...{ kind: 'arc-goes-on', serial: 3, sensor: 'a', openArc },
      ...{ verdict: 'marginal', says: 'Just so.' },
    });
    expect(at.soFar.value).toEqual({ verdict: 'marginal', says: 'Just so.' });
    take({
      ...{ kind: 'arc-ended', serial: 4, sensor: 'a', summary: summary(7), flags: 1, duty: 0.1 },
    });
    expect(at.soFar.value).toBeNull();
    expect(at.sensor.value).toMatchObject({ state: 'online', flags: 1, duty: 0.1 });
    expect(weakArc.value?.id).toBe(7);
    const acknowledged = { by: 'Robin', at: new Date(nowMs).toISOString() };
    const seen = summary(7, { acknowledged });
    take({ kind: 'acknowledged', serial: 5, sensor: 'a', summary: seen, flags: 0 });
    expect(at.sensor.value.flags).toBe(0);
    expect(at.sensor.value.lastArc?.acknowledged?.by).toBe('Robin');
    expect(arcs.value[0]?.acknowledged?.by).toBe('Robin');
  });

  test('an underpowered weld is counted once, at the first word of it', () => {
    hello([sensor('a')]);
    const before = weakWelds.value;
    const openArc = { startedAt: new Date(nowMs).toISOString(), arc: null };
    const goesOn = (verdict: 'adequate' | 'underpowered') =>
      take({
        ...{ kind: 'arc-goes-on', serial: 2, sensor: 'a', openArc },
        ...{ verdict, says: 'So far.' },
      });
    const ended = (id: number, more: Partial<ArcSummary> = {}) =>
      take({
        ...{ kind: 'arc-ended', serial: 3, sensor: 'a', flags: 1, duty: 0.1 },
        summary: summary(id, more),
      });
    goesOn('adequate');
    expect(weakWelds.value).toBe(before);
    goesOn('underpowered');
    goesOn('underpowered');
    ended(11);
    expect(weakWelds.value).toBe(before + 1);
    ended(12);
    expect(weakWelds.value).toBe(before + 2);
    ended(13, { verdict: 'adequate' });
    ended(14, { countedBy: 15 });
    expect(weakWelds.value).toBe(before + 2);
  });

  test('a machine that must not be plugged in sounds once, before any weld', () => {
    const mismatch = { verdict: 'unsuited', says: 'Made for 120 V.' } as const;
    hello([sensor('a'), sensor('b', { mismatch, slot: 1 })]);
    const before = weakWelds.value;
    const told = (id: string, more: Partial<Sensor>) =>
      take({ kind: 'sensor', serial: 2, sensor: sensor(id, more) });
    told('b', { mismatch, slot: 1 });
    told('a', { mismatch: { ...mismatch, verdict: 'underpowered' } });
    expect(weakWelds.value).toBe(before);
    told('a', { mismatch });
    told('a', { mismatch });
    expect(weakWelds.value).toBe(before + 1);
    told('a', {});
    told('a', { mismatch });
    expect(weakWelds.value).toBe(before + 2);
  });

  test('after a break it says how long it was and how many arcs went by', () => {
    hello([sensor('a')], [summary(1)]);
    heardMs.value = nowMs - 42_000;
    hello([sensor('a')], [summary(3), summary(2), summary(1)]);
    expect(missed.value).toEqual({ seconds: 42, arcs: 2, weak: 2 });
    expect(broke.value).toEqual({ fromMs: nowMs - 42_000, toMs: nowMs, moreArcs: false });
    expect(weakArc.value?.id).toBe(3);
    heardMs.value = nowMs - 8_000;
    const fourth = summary(4, { verdict: 'adequate' });
    hello([sensor('a')], [fourth, summary(3)]);
    expect(missed.value).toEqual({ seconds: 50, arcs: 3, weak: 2 });
    heardMs.value = nowMs - 60_000;
    hello([sensor('a')], [summary(9), summary(8)]);
    expect(broke.value?.moreArcs).toBe(true);
  });

  test('a reconnect keeps the strips, and forgets a sensor that is gone', () => {
    hello([sensor('a'), sensor('b', { slot: 1 })]);
    const before = circuits.value.get('a')!.recent;
    hello([sensor('a', { slot: 5 })]);
    expect(circuits.value.get('a')!.recent).toBe(before);
    expect(circuits.value.has('b')).toBe(false);
    const one = Float32Array.of(119);
    const columns = { volts: [one], amps: [one], watts: [one] };
    takeRows([
      { slot: 5, timeMs: Float64Array.of(nowMs), hertz: Float32Array.of(60), ...columns },
      // Of a sensor that this page was never told of.
      { slot: 1, timeMs: Float64Array.of(nowMs), hertz: Float32Array.of(60), ...columns },
    ]);
    expect(circuits.value.get('a')!.reading.value?.volts).toEqual([119]);
  });

  test('figures are drawn ten times a second, the newest last; strips keep every row', () => {
    vi.useFakeTimers({ now: nowMs + 60_000, toFake: ['Date', 'setTimeout'] });
    hello([sensor('fresh')]);
    const { reading, recent } = circuits.value.get('fresh')!;
    const drawn: number[] = [];
    const stop = reading.subscribe((value) => value && drawn.push(value.volts[0]!));
    for (let volts = 100; volts < 108; volts++) {
      const one = Float32Array.of(volts);
      const columns = { hertz: one, volts: [one], amps: [one], watts: [one] };
      takeRows([{ slot: 0, timeMs: Float64Array.of(Date.now()), ...columns }]);
      vi.advanceTimersByTime(50);
    }
    vi.advanceTimersByTime(50);
    expect(drawn).toEqual([100, 101, 103, 105, 107]);
    expect(recent.newestMs).toBe(nowMs + 60_350);
    stop();
  });
});

describe('how a circuit stands', () => {
  const kind = (more: Partial<Sensor>, heardAgoMs = 0, link: 'live' | 'offline' = 'live') =>
    standing(sensor('a', more), nowMs - heardAgoMs, link, nowMs).kind;

  test('quiet, arc on, late, switched off, lost and unknown are six things', () => {
    expect(kind({})).toBe('quiet');
    expect(kind({ state: 'arc' })).toBe('arc');
    expect(kind({}, 9_000)).toBe('late');
    expect(kind({ state: 'offline' })).toBe('off');
    expect(kind({ state: 'lost' })).toBe('lost');
    expect(kind({ state: 'arc' }, 0, 'offline')).toBe('unknown');
  });

  test('says for how long nothing was heard', () => {
    expect(standing(sensor('a'), nowMs - 9_000, 'live', nowMs).words).toBe('No word for 9 s');
  });
});
