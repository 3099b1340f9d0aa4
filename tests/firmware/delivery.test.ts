import { describe, expect, test } from 'vitest';
import { Rig, rateHz, stretches } from './rig.ts';

describe('from the converter to the server', () => {
  test('an arc arrives once, whole, with half a second before it and after', () => {
    const rig = new Rig({ arcs: [[2, 3.5]] });
    rig.run(6);
    expect(rig.server.faults).toEqual([]);
    expect(rig.server.edges.map(({ what }) => what)).toEqual(['began', 'ended']);
    const [began, ended] = rig.server.edges;
    expect(began!.sample / rateHz).toBeCloseTo(2, 1);
    expect(ended!.sample / rateHz).toBeCloseTo(3.5, 1);
    const held = stretches(rig.server.waves);
    expect(held).toHaveLength(1);
    expect(held[0]![0] / rateHz).toBeLessThanOrEqual(1.5);
    expect(held[0]![1] / rateHz).toBeGreaterThanOrEqual(4);
    expect(rig.server.repeats).toBe(0);
    expect(rig.firmware.delivered).toBe(true);
  });

  test('what a block holds is what the converter saw, to the count', () => {
    const rig = new Rig({ arcs: [[2, 3]] });
    rig.run(5);
    const other = new Rig({ arcs: [[2, 3]] });
    const counts = new Int32Array(2 * 6 * rateHz);
    const block = { frames: 0, first: 0, micros: 0, lost: 0 };
    other.clock.advance(1_900_000);
    for (let at = 0; at < 4 * rateHz; at += block.frames) {
      other.clock.advance(100_000);
      other.hal.adc.read(counts.subarray(2 * at), block);
    }
    for (const wave of rig.server.waves) {
      const seen = counts.subarray(2 * wave.first, 2 * (wave.first + wave.n));
      expect(Array.from(wave.data)).toEqual(Array.from(seen));
      expect(wave.time - 1_700_000_000_000_000).toBeCloseTo((wave.first / rateHz) * 1e6, -1);
    }
  });

  test('arcs closer than the post-trigger share one capture and stay two arcs', () => {
    const rig = new Rig({
      arcs: [
        [2, 2.5],
        [2.9, 3.4],
        [6, 6.3],
      ],
    });
    rig.run(9);
    expect(rig.server.edges.map(({ arc, what }) => `${arc} ${what}`)).toEqual(
      [1, 2, 3].flatMap((arc) => [`${arc} began`, `${arc} ended`]),
    );
    expect(stretches(rig.server.waves)).toHaveLength(2);
  });

  test('three pairs of 24 bits fit every message', () => {
    const scale = [1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4];
    const rig = new Rig({ arcs: [[2, 3]], about: { pairs: 3, rateHz, bits: 24, scale } });
    rig.run(5);
    expect(rig.server.faults).toEqual([]);
    expect(rig.server.waves[0]!.data).toBeInstanceOf(Int32Array);
    expect(rig.server.waves[0]!.data).toHaveLength(1_024 * 6);
    expect(rig.server.rows.at(-1)!.volts).toHaveLength(3);
  });

  test('half-cycle rows tell volts, amps and watts each second', () => {
    const rig = new Rig({ arcs: [[2, 6]] });
    rig.run(7);
    const row = rig.server.rows.find(({ end }) => end[0]! > 3 * rateHz)!;
    expect(row.volts[0]![5]).toBeCloseTo(120, 1);
    expect(row.amps[0]![5]).toBeGreaterThan(17);
    expect(row.watts[0]![5]).toBeCloseTo(row.volts[0]![5]! * row.amps[0]![5]!, -2);
    const ends = rig.server.rows.flatMap(({ end }) => [...end]);
    expect(ends.every((end, n) => n === 0 || end > ends[n - 1]!)).toBe(true);
  });

  test('arcs without a connection are kept and brought once there is one', () => {
    const rig = new Rig({
      arcs: [
        [1.5, 2],
        [4, 5],
      ],
    });
    rig.link.disconnect();
    rig.run(7);
    expect(rig.server.waves).toHaveLength(0);
    rig.link.connect();
    rig.run(3);
    expect(rig.server.edges).toHaveLength(4);
    expect(stretches(rig.server.waves)).toHaveLength(2);
    expect(rig.server.repeats).toBe(0);
  });

  test('without a keep nothing runs ahead of the window, and all is sent again', () => {
    const rig = new Rig({ arcs: [[1.5, 9]] });
    rig.server.keeps = false;
    rig.run(9);
    expect(rig.server.stored.size).toBe(32);
    rig.run(3);
    expect(rig.server.repeats).toBeGreaterThanOrEqual(32);
    rig.server.keeps = true;
    rig.run(20);
    expect(rig.firmware.delivered).toBe(true);
    expect(rig.server.faults).toEqual([]);
    expect(rig.firmware.health.resends).toBeGreaterThan(0);
  });

  test('a keep that goes back is believed: a restored server gets again what it lost', () => {
    const rig = new Rig({ arcs: [[1.5, 2.5]] });
    rig.run(5);
    const all = [...rig.server.stored.keys()];
    rig.server.restore(all[2]!);
    rig.run(2);
    expect([...rig.server.stored.keys()]).toEqual(all);
    expect(rig.firmware.delivered).toBe(true);
  });

  test('a keep for what was never sent is counted and changes nothing', () => {
    const rig = new Rig({ arcs: [[1.5, 2.5]] });
    rig.run(1);
    rig.server.tellKeep(Number.MAX_SAFE_INTEGER);
    rig.run(4);
    expect(rig.firmware.health.oddMessages).toBe(1);
    expect(rig.server.edges).toHaveLength(2);
  });

  test('numbers go on over a boot, samples begin anew with the next boot', () => {
    const first = new Rig({ arcs: [[1.5, 2]] });
    first.run(4);
    const second = new Rig({ arcs: [[1.5, 2]], flash: first.flash });
    second.run(4);
    const last = Math.max(...first.server.stored.keys());
    const fresh = second.server.waves.filter(({ boot }) => boot === second.firmware.boot);
    expect(Math.min(...fresh.map(({ seq }) => seq))).toBeGreaterThan(last);
    expect(second.firmware.boot).toBe(first.firmware.boot + 1);
    expect(fresh[0]!.first).toBeLessThan(1.1 * rateHz);
    expect(second.server.faults).toEqual([]);
  });

  test('stopping closes the capture, says offline, and lets the rest go out', () => {
    const rig = new Rig({ arcs: [[1.5, 9]] });
    rig.run(3);
    rig.firmware.stop();
    rig.run(1);
    expect(rig.server.edges.map(({ what }) => what)).toEqual(['began', 'ended']);
    expect(rig.server.states.at(-1)!.state).toBe('offline');
    expect(stretches(rig.server.waves)[0]![1]).toBeGreaterThan(2.9 * rateHz);
    expect(rig.firmware.delivered).toBe(true);
  });

  test('the same run gives the same bytes', () => {
    const run = () => {
      const rig = new Rig({
        arcs: [
          [1.5, 2.5],
          [3.2, 4],
        ],
      });
      rig.run(6);
      return Buffer.concat([...rig.server.stored.values()]).toString('base64');
    };
    expect(run()).toBe(run());
  });
});
