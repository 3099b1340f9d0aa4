import { encode } from 'cborg';
import { describe, expect, test } from 'vitest';
import { Rig } from './rig.ts';

function ask(rig: Rig, question: Record<string, unknown>): unknown {
  rig.link.tell('ask', encode({ v: 1, id: 7, ...question }));
  rig.run(0.1);
  return rig.server.answers.at(-1);
}

describe('what the server may ask', () => {
  test('get: settings and health', () => {
    const rig = new Rig();
    rig.run(1);
    expect(ask(rig, { ask: 'get' })).toMatchObject({
      ok: true,
      settings: { triggerAmps: 0.7, postTriggerMs: 500, rows: 1 },
      health: { overruns: 0, dropped: 0, clockSteps: 0 },
    });
  });

  test('set: what is in bounds holds over a boot', () => {
    const rig = new Rig();
    rig.run(1);
    const settings = { triggerAmps: 2.5, postTriggerMs: 800 };
    expect(ask(rig, { ask: 'set', settings })).toMatchObject({ ok: true, settings });
    const later = new Rig({ flash: rig.flash });
    later.run(1);
    expect(ask(later, { ask: 'get' })).toMatchObject({ settings: { ...settings, rows: 1 } });
  });

  test.each([
    [{ triggerAmps: 500 }, 'triggerAmps is out of bounds'],
    [{ postTriggerMs: 900, triggerAmps: -1 }, 'triggerAmps is out of bounds'],
    [{ volume: 11 }, 'no such setting'],
  ])('set: %j changes nothing, and says why', (settings, error) => {
    const rig = new Rig();
    rig.run(1);
    expect(ask(rig, { ask: 'set', settings })).toEqual({ ok: false, error });
    expect(ask(rig, { ask: 'get' })).toMatchObject({
      settings: { triggerAmps: 0.7, postTriggerMs: 500, rows: 1 },
    });
  });

  test('a setting takes effect at once', () => {
    const rig = new Rig({ arcs: [[2, 3]] });
    rig.run(1);
    ask(rig, { ask: 'set', settings: { triggerAmps: 20, rows: 0 } });
    const rows = rig.server.rows.length;
    rig.run(4);
    // Twenty amperes over idle are not there.
    expect(rig.server.edges).toEqual([]);
    expect(rig.server.rows).toHaveLength(rows);
  });

  test('self-test: sound, and with a voltage that stands still', () => {
    const rig = new Rig();
    rig.run(2);
    const all = { ok: true, adc: true, flash: true, clock: true, channels: true };
    expect(ask(rig, { ask: 'self-test' })).toEqual(all);
  });

  test('time: the offset is told, and the next wave bears the time of the server', () => {
    const rig = new Rig({ arcs: [[2, 3]] });
    rig.run(1);
    const time = rig.clock.wallMicros() + 2_000_000;
    const answer = ask(rig, { ask: 'time', time });
    expect(answer).toMatchObject({ ok: true });
    expect((answer as { offsetMicros: number }).offsetMicros).toBeCloseTo(1_975_000, -5);
    rig.run(4);
    const { first, time: told } = rig.server.waves[0]!;
    expect(told).toBeGreaterThan(1_700_000_000_000_000 + (first / 10_240) * 1e6 + 1_900_000);
    expect(ask(rig, { ask: 'time', time: 'noon' })).toMatchObject({ ok: false });
  });

  test('an unknown question is answered, what is no question is counted', () => {
    const rig = new Rig();
    rig.run(1);
    expect(ask(rig, { ask: 'reboot' })).toMatchObject({ ok: false });
    rig.link.tell('ask', Uint8Array.of(0xff, 0, 1));
    rig.link.tell('keep', Uint8Array.of(0xa0));
    rig.link.tell('keep', encode({ v: 2, seq: 5 }));
    rig.run(0.1);
    expect(rig.firmware.health.oddMessages).toBe(3);
  });
});
