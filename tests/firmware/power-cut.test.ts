import { describe, expect, test } from 'vitest';
import type { Clock, Flash } from '../../simulator/hal.ts';
import { FaultyFlash, PowerCut } from '../../simulator/ports/faulty-flash.ts';
import { MemoryFlash } from '../../simulator/ports/memory-flash.ts';
import { Rig, stretches } from './rig.ts';

const arcs = [[0.7, 0.9]] as const;
const sectors = 8;

function runWithCut(write: number): { before: Rig; after: Rig | null; faulty: FaultyFlash } {
  const memory = new MemoryFlash(sectors);
  let faulty!: FaultyFlash;
  const wrap = (flash: Flash, clock: Clock) => {
    faulty = new FaultyFlash(flash, clock, [{ kind: 'flash-power-cut', write }]);
    return faulty;
  };
  let before: Rig | undefined;
  try {
    before = new Rig({ arcs, flash: memory, wrapFlash: wrap });
    before.run(2.5);
    return { before, after: null, faulty };
  } catch (error) {
    if (!(error instanceof PowerCut)) throw error;
  }
  // Power again, on the same flash; another arc, so that numbers are given out anew.
  const after = new Rig({ arcs, flash: memory });
  after.run(4);
  return { before: before ?? after, after, faulty };
}

describe('power fails', () => {
  const whole = runWithCut(-1);
  const writes = whole.faulty.writes;

  test('at every write in turn: nothing that the server keeps is lost or told twice', () => {
    expect(writes).toBeGreaterThan(150);
    for (let write = 0; write < writes; write++) {
      const { before, after } = runWithCut(write);
      expect(after, `write ${write}`).not.toBeNull();
      for (const [seq, bytes] of before.server.stored) {
        const again = after!.server.stored.get(seq);
        // What is sent again is the same record, to the byte.
        if (again) expect(Buffer.compare(bytes, again), `write ${write} seq ${seq}`).toBe(0);
      }
      expect(after!.server.faults).toEqual([]);
      // Of what flash held, at most the record that was being written is missing.
      const seqs = [...before.server.stored.keys(), ...after!.server.stored.keys()];
      const span = Math.max(...seqs) - Math.min(...seqs) + 1;
      expect(span - new Set(seqs).size, `write ${write}`).toBeLessThanOrEqual(1);
      expect(after!.firmware.delivered).toBe(true);
      const own = after!.server.waves.filter(({ boot }) => boot === after!.firmware.boot);
      expect(stretches(own)).toHaveLength(1);
      if (before !== after)
        expect(after!.firmware.boot).toBeGreaterThanOrEqual(before.firmware.boot);
    }
  }, 60_000);
});
