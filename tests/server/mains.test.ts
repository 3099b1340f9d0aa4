import { afterEach, beforeEach, describe, expect, it, test } from 'vitest';
import { mainsHertz, onMains } from '../../dashboard/server/live/mains.ts';
import { settingOf } from '../../dashboard/server/live/outlet-setting.ts';
import type { Reading } from '../../shared/protocol/http.ts';
import type { ShopSettings } from '../../shared/protocol/http-settings.ts';
import { type Built, buildServer } from './built.ts';
import { bay, stamp } from './given.ts';

const at = (hertz: number): { reading: Reading } => ({
  reading: { at: '', hertz, volts: [230], amps: [0], watts: [0] },
});
const circuit = { name: 'Bay 1', volts: 230 };

describe('the frequency that something is foretold for', () => {
  it.each([
    ['the circuit says it, whatever is measured', { ...circuit, hertz: 60 as const }, [50], 50, 60],
    ['measured there, whatever the shop says', circuit, [59.8], 50, 60],
    ['a generator strays', circuit, [53.5], 60, 50],
    ['nothing is measured', circuit, [], 60, 60],
    ['a dead outlet tells nothing', circuit, [0], 60, 60],
    ['nobody knows', circuit, [], null, null],
    ['no circuit is there', null, [50], null, 50],
  ] as const)('%s', (_, of, measured, shop, is) => {
    const sensors = measured.map(at);
    expect(mainsHertz(of, sensors, shop)).toBe(is);
  });

  it('stays unsaid where nobody knows, so that the voltage tells', () => {
    expect(onMains(circuit, [], null)).toBe(circuit);
    expect(onMains(circuit, [], 50)).toEqual({ ...circuit, hertz: 50 });
  });
});

describe('a shop of 230 V at 60 Hz, where the voltage alone would say 50', () => {
  let built: Built;
  beforeEach(async () => {
    built = await buildServer();
    const branch = { awg: 10, metal: 'copper' as const, feet: 60 };
    built.store.circuits.add({ ...circuit, branch }, stamp);
    const supply = [{ U1: 230, I1max: 30 }];
    built.store.plates.add({ name: 'Tern 220', phases: 1, supply }, stamp);
    const conductor = { awg: 4, metal: 'copper' as const, feet: 90 };
    built.store.feeders.add({ name: 'bays', volts: 230, conductor, circuits: [1] }, stamp);
    await ask('PUT', `/sensors/${bay}/assignment`, { circuit: 1, plate: 1 });
  });
  afterEach(() => built.close());
  const ask = async (method: 'GET' | 'PUT' | 'POST', url: string, payload?: object) =>
    (
      await built.app.inject({ method, url: `/api/v1${url}`, ...(payload ? { payload } : {}) })
    ).json();
  const settle = (hertz: ShopSettings['hertz']) =>
    ask('PUT', '/settings', { hertz, units: 'us', language: null, timeZone: null });

  const machines = [
    {
      ...{ name: 'Tern 220', phases: 1, supply: [{ U1: 230, I1max: 30 }] },
      ...{ processes: ['mig-steel'], owned: true },
    },
  ];
  /** As everything that foretells says it. */
  const foretold = async () => {
    const circuits = await ask('GET', '/plan/circuits');
    const feeders = await ask('GET', '/plan/feeders');
    const plan = await ask('POST', '/plan', { machines, circuits, needs: [], feeders });
    return {
      plan: plan.matrix[0].voltsAtFullLoad as number,
      remedies: (await ask('GET', `/sensors/${bay}/remedies`)).now.volts as number,
      feeder: (await ask('GET', '/feeders/loads'))[0].atOnce.volts as number,
      planned: plan.feeders[0].atOnce.volts as number,
    };
  };

  test('plan, remedies and feeders all follow the setting, and agree', async () => {
    const byVolts = await foretold();
    await settle(50);
    expect(await foretold()).toEqual(byVolts);
    await settle(60);
    const at60 = await foretold();
    for (const key of ['plan', 'remedies', 'feeder'] as const)
      expect(at60[key]).toBeGreaterThan(byVolts[key] + 1);
    expect(at60.remedies).toBeCloseTo(at60.plan, 6);
    expect(at60.planned).toBeCloseTo(at60.feeder, 6);
  });

  test('an outlet check begins with it; what is stored says no more than it was told', async () => {
    await settle(60);
    const sensor = (await ask('GET', `/sensors/${bay}`)) as Parameters<typeof settingOf>[0];
    expect(settingOf(sensor, null, 60).nominalHertz).toBe(60);
    expect(settingOf({ ...sensor!, ...at(50) }, null, 60).nominalHertz).toBe(50);
    const kept = (await ask('GET', '/circuits')) as { circuit: { hertz?: number } }[];
    expect(kept[0]!.circuit).not.toHaveProperty('hertz');
  });
});
