import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { openDatabase } from '../../dashboard/server/store/database.ts';
import { get, until } from '../system/program.ts';
import { allArcs, counted, good, type Layout, Rig, Witness } from './rig.ts';

let rig: Rig;
afterEach(() => rig.close());

describe.each<Layout>(['run', 'broker and serve'])(
  'a store that takes nothing under %s',
  (layout) => {
    it('is told within seconds and blamed on no record; then all is stored', async () => {
      rig = new Rig();
      await rig.start(layout);
      const witness = new Witness();
      await witness.listen(rig, good);
      const sensor = rig.sensor('--speed', '4');
      await until(() => witness.arcs.length >= 1, 60_000, sensor.err);
      // Another program writes and does not end: every commit fails, whatever is in it.
      const other = openDatabase(join(rig.data, 'stiffline.sqlite'));
      other.exec('PRAGMA busy_timeout = 30000; BEGIN IMMEDIATE');
      const ready = () => fetch(new URL('readyz', rig.url));
      await until(async () => (await ready()).status === 503, 30_000, rig.said);
      expect(await (await ready()).json()).toEqual({
        ...{ ready: false, reason: 'nothing is being stored: database is locked' },
      });
      expect(rig.said).toContain('not stored: database is locked');
      await until(() => witness.kept < witness.newest, 30_000);
      other.exec('ROLLBACK');
      other.close();
      await until(async () => (await ready()).status === 200, 60_000, rig.said);
      expect(rig.said).toContain('stored again');
      expect(await sensor.stop('SIGTERM'), sensor.err).toBe(0);
      const seen = witness.arcs.length;
      await until(async () => (await allArcs(rig.url)).length >= seen, 60_000, rig.said);
      await until(() => witness.kept >= witness.newest, 60_000, rig.said);
      expect(await get<unknown[]>(rig.url, 'api/v1/sensors')).toHaveLength(1);
      const metrics = await (await fetch(new URL('metrics', rig.url))).text();
      expect(counted(metrics, 'quarantined ')).toBe(0);
      expect(counted(metrics, 'quarantined_total')).toBe(0);
    });
  },
);
