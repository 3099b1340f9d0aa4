import { expect, it } from 'vitest';
import type { CouponDetail } from '../../dashboard/server/store/jobs-store.ts';
import type { NewAuditRecord } from '../../dashboard/server/store/people-store.ts';
import type { Store } from '../../dashboard/server/store/store.ts';
import type { SetUpSheet } from '../../shared/protocol/jobs.ts';
import { forBothStores } from './both-stores.ts';
import { batchOf, bay, checked, newArc, stamp } from './given.ts';

const wire = { name: 'Bay 1', volts: 120, branch: { awg: 12, feet: 65 } };
const plate = { name: 'Tern 100', phases: 1 as const, supply: [{ U1: 120, I1max: 23 }] };

const metal = { metal: 'HSS', thick: { mm: 1.2 } };
const sheet: SetUpSheet = {
  work: {
    ...{ process: 'mig-steel', joint: 'lap', pulse: false, position: 'flat' },
    sheets: [metal, metal],
  },
  procedure: { reference: 'SP-7' },
};
const untested = (begun: CouponDetail['begun']): CouponDetail => ({
  ...{ knobs: null, begun, hung: { plate: null, circuit: null, sensorAt: 'outlet' } },
  ...{ welded: null, arcs: [], visual: null, destructive: null, decided: null },
  ...{ band: null, stale: null },
});

/** What people write: plates and circuits, themselves, checks and job sheets. */
forBothStores((store) => {
  it('hangs circuit and plate on a sensor, and refuses what is not there', () => {
    const circuit = store().circuits.add(wire, stamp);
    const machine = store().plates.add(plate, stamp);
    expect(store().assign(bay, circuit.id, machine.id)).toBe(true);
    expect(store().assign(bay, circuit.id + 1, null)).toBe(false);
    expect(store().assign(bay, null, machine.id + 1)).toBe(false);
    expect(store().assign('harbour-lane.bay-9', null, null)).toBe(false);
    expect(store().sensors()[0]).toMatchObject({ circuit: circuit.id, plate: machine.id });
    store().circuits.retire(circuit.id, true);
    expect(store().assign(bay, circuit.id, null)).toBe(false);
  });

  it('keeps every version of a plate, and who made it', () => {
    const later = { atUs: 2e15, by: 'Ida' };
    const { id } = store().plates.add(plate, stamp);
    const other = { ...plate, name: 'Tern 120' };
    const second = { id, version: 2, ...later, value: other, retired: false };
    expect(store().plates.set(id, other, later)).toEqual(second);
    // The same again is no new version.
    expect(store().plates.set(id, other, { atUs: 3e15, by: 'Robin' })).toEqual(second);
    expect(store().plates.set(99, plate, later)).toBeNull();
    expect(store().plates.versions(id, 99, 9)).toEqual([
      { version: 2, ...later, value: other },
      { version: 1, ...stamp, value: plate },
    ]);
    expect(
      store()
        .plates.versions(id, 2, 9)
        .map(({ version }) => version),
    ).toEqual([1]);
    expect(
      store()
        .plates.versions(id, 99, 1)
        .map(({ version }) => version),
    ).toEqual([2]);
    expect(store().plates.retire(id, true)).toEqual({ ...second, retired: true });
    expect(store().plates.list()).toEqual([{ ...second, retired: true }]);
    expect(store().circuits.list()).toEqual([]);
  });

  it('keeps feeders as plates are kept, each kind by numbers of its own', () => {
    const feeder = { name: 'bays', volts: 240, circuits: [1, 2] };
    store().plates.add(plate, stamp);
    const { id } = store().feeders.add(feeder, stamp);
    const later = { atUs: 2e15, by: 'Ida' };
    const moved = { ...feeder, circuits: [3] };
    expect(store().feeders.set(id, moved, later)).toMatchObject({ id: 1, version: 2, ...later });
    expect(store().feeders.versions(id, 99, 9)).toEqual([
      { version: 2, ...later, value: moved },
      { version: 1, ...stamp, value: feeder },
    ]);
    expect(store().feeders.retire(id, true)).toMatchObject({ value: moved, retired: true });
    expect(store().plates.versions(1, 99, 9)).toHaveLength(1);
  });

  it('keeps people, and their sessions until they end or are too many', () => {
    const ida = store().people.add({ name: 'Ida', role: 'weld', pin: 'x' });
    expect(ida).toMatchObject({ id: 1, disabled: false, wrong: 0, lockedUntilMs: 0 });
    const changed = { ...ida, role: 'lead' as const, wrong: 2, lockedUntilMs: 7, disabled: true };
    store().people.save(changed);
    expect(store().people.list()).toEqual([changed]);
    expect(store().people.one(1)).toEqual(changed);
    expect(store().people.one(2)).toBeNull();
    const session = (hash: string, person: number | null, endsMs = 100) => ({
      ...{ hash, person, endsMs },
    });
    for (const [hash, person] of [['a', null] as const, ['b', 1] as const, ['c', 1] as const])
      store().people.begin(session(hash, person), 0, 2);
    expect(store().people.session('a', 0)).toBeNull();
    expect(store().people.session('b', 99)).toEqual(session('b', 1));
    expect(store().people.session('b', 100)).toBeNull();
    store().people.end('b');
    expect(store().people.session('b', 0)).toBeNull();
    store().people.endAllOf(1);
    expect(store().people.session('c', 0)).toBeNull();
  });

  it('lists changes newest first, by area, person and time', () => {
    const ida = store().people.add({ name: 'Ida', role: 'weld', pin: 'x' });
    const entry = (atUs: number, more: Partial<NewAuditRecord> = {}): NewAuditRecord => ({
      ...{ atUs, person: null, device: null, area: 'plates', subject: 'plate 1', says: 'so' },
      ...{ before: null, after: { a: 1 }, ...more },
    });
    const by = { id: ida.id, name: 'Ida' };
    store().audit.add(entry(1));
    store().audit.add(entry(2, { person: by, device: '192.0.2.7' }));
    store().audit.add(entry(3, { area: 'people' }));
    const ids = (query: Partial<Parameters<Store['audit']['list']>[0]>) =>
      store()
        .audit.list({ limit: 9, ...query })
        .map(({ id }) => id);
    expect(ids({})).toEqual([3, 2, 1]);
    expect(ids({ limit: 2 })).toEqual([3, 2]);
    expect(ids({ before: 3 })).toEqual([2, 1]);
    expect(ids({ area: 'plates' })).toEqual([2, 1]);
    expect(ids({ person: ida.id })).toEqual([2]);
    expect(ids({ fromUs: 2, toUs: 3 })).toEqual([2]);
    expect(store().audit.list({ person: 1, limit: 1 })).toEqual([
      { ...entry(2, { person: by, device: '192.0.2.7' }), id: 2 },
    ]);
  });

  it('keeps a check from its begin, lists it once it is judged; the first result stays', () => {
    const about = { date: '2026-11-25T08:00:00Z', person: 'Ida', place: 'Bay 2' } as const;
    const first = store().addCheck(bay, { ...about, cordFrom: 'first-bead' });
    const second = store().addCheck(bay, { ...about, cordFrom: 'second-bead' });
    expect(store().checks({ limit: 9 })).toEqual([]);
    expect(store().check(second)).toMatchObject({ sensor: bay, result: null, about });
    store().judgeCheck(first, checked('adequate'));
    store().judgeCheck(second, checked('marginal'));
    store().judgeCheck(second, checked('underpowered'));
    const verdicts = (query: { sensor?: string; limit: number }) =>
      store()
        .checks(query)
        .map(({ id, result }) => [id, result?.verdict]);
    expect(verdicts({ limit: 9 })).toEqual([
      [second, 'marginal'],
      [first, 'adequate'],
    ]);
    expect(verdicts({ sensor: bay, limit: 1 })).toEqual([[second, 'marginal']]);
    expect(verdicts({ sensor: 'elsewhere.bay-1', limit: 9 })).toEqual([]);
    expect(store().check(99)).toBeNull();
    expect(() =>
      store().addCheck('elsewhere.bay-1', { ...about, cordFrom: 'first-bead' }),
    ).toThrow();
  });

  it('keeps jobs, set-ups and coupons, and knows what was set up at a moment', () => {
    const sign = (minute: number) => ({ by: 'Ida', at: `2026-11-25T08:${minute}:00.000Z` });
    const open = { vehicle: 'grey van', opened: sign(10), closed: null };
    const first = store().jobs.addJob({ number: '17', ...open });
    const second = store().jobs.addJob({ number: '18', ...open });
    store().jobs.setJob({ ...first, closed: sign(50) });
    expect(
      store()
        .jobs.jobs({ limit: 9 })
        .map(({ number }) => number),
    ).toEqual(['18', '17']);
    expect(store().jobs.jobs({ open: true, limit: 9 })).toEqual([second]);
    expect(store().jobs.jobs({ before: second.id, limit: 9 })[0]!.closed).toEqual(sign(50));
    const begun = { sheet, runs: [{ from: sign(20).at, to: null }], ended: null };
    const old = store().jobs.addSetUp(first.id, bay, { ...begun, begun: sign(20) });
    const ended = { ...old, ended: { ...sign(30), why: 'replaced' as const } };
    store().jobs.setSetUp(ended);
    const now = store().jobs.addSetUp(second.id, bay, { ...begun, begun: sign(30) });
    expect(store().jobs.setUpAt(bay, sign(19).at)).toBeNull();
    expect(store().jobs.setUpAt(bay, sign(29).at)).toEqual(ended);
    expect(store().jobs.setUpAt(bay, sign(30).at)).toEqual(now);
    expect(store().jobs.openSetUp(bay)).toEqual(now);
    expect(store().jobs.setUpsOf(first.id)).toEqual([ended]);
    const coupon = store().jobs.addCoupon(now.id, untested(sign(31)));
    store().jobs.setCoupon({ ...coupon, arcs: [4], band: { watts: [900, 1_000] } });
    expect(store().jobs.couponsOf(now.id)).toEqual([store().jobs.coupon(coupon.id)]);
    expect(store().jobs.coupon(coupon.id)).toMatchObject({ setUp: now.id, arcs: [4] });
    expect(store().jobs.job(99) ?? store().jobs.setUp(99) ?? store().jobs.coupon(99)).toBeNull();
    expect(() => store().jobs.addSetUp(99, bay, { ...begun, begun: sign(40) })).toThrow();
    const whose = { job: second.id, jobNumber: '18', coupon: coupon.id, on: 'coupon' as const };
    const weld = { ...whose, setUp: now.id };
    const [arc] = store().commit(batchOf({ arcs: [{ ...newArc(0), weld }, newArc(20_000)] }));
    expect(store().arc(arc!.id)!.weld).toEqual(weld);
    expect(store().arcs({ job: second.id, limit: 9 })).toHaveLength(1);
    expect(store().arcs({ job: first.id, limit: 9 })).toEqual([]);
    expect(store().arcs({ setUp: now.id, limit: 9 })[0]!.id).toBe(arc!.id);
  });
});
