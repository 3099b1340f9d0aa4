import { afterEach, expect, it } from 'vitest';
import type { StoredCircuit } from '../../shared/protocol/http.ts';
import type { Check, KeptCheck } from '../../shared/protocol/http-check.ts';
import type { Remedies } from '../../shared/protocol/http-plan.ts';
import type { CheckChoice } from '../../shared/protocol/outlet-check.ts';
import { Shop } from './shop.ts';

let shop: Shop;
afterEach(() => shop.close());

async function open(sensor: string): Promise<void> {
  shop = new Shop(sensor, 7);
  await shop.open();
  shop.run(1);
}

async function ask<T>(url: string, payload?: object): Promise<T> {
  const method = payload ? 'POST' : 'GET';
  const answer = await shop.app.inject({
    url: `/api/v1${url}`,
    method,
    ...(payload && { payload }),
  });
  expect(answer.statusCode, answer.body).toBeLessThan(300);
  return answer.json() as T;
}

/** Does as a person does: goes on when enough is in, has it judged after the first good bead. */
async function follow(check: Check): Promise<{ check: Check; steps: string[] }> {
  const steps: string[] = [];
  for (let seconds = 0; seconds < 240; seconds += 0.5) {
    shop.run(0.5);
    check = await ask<Check>(`/checks/${check.id}`);
    const { step, enough, choices } = check.telling;
    if (steps.at(-1) !== step) steps.push(step);
    if (step === 'judged' || step === 'stopped') return { check, steps };
    const wanted: CheckChoice = step === 'no-load' || step === 'idle' ? 'go-on' : 'judge';
    if (enough && choices.includes(wanted))
      check = await ask<Check>(`/checks/${check.id}/choice`, { choice: wanted });
  }
  return { check, steps };
}

/** Waits as the page asks for: no check begins while an arc burns. */
function begin(cords: object[]): Promise<Check> {
  for (let tries = 0; shop.floor.sensor(shop.id)!.openArc && tries < 200; tries++) shop.run(0.5);
  return ask<Check>('/checks', {
    ...{ sensor: shop.id, person: 'Ida', place: 'Bay 2, left', circuit: 1, plate: 1 },
    ...{ cords, cordFrom: 'first-bead' },
  });
}

/** Assigns the cord to the outlet, as a lead does: a check alone saves nothing. */
async function save(cords: object[]): Promise<void> {
  const [stored] = await ask<StoredCircuit[]>('/circuits');
  const url = `/api/v1/circuits/1?version=${stored!.version}`;
  const payload = { ...stored!.circuit, cords };
  expect((await shop.app.inject({ method: 'PUT', url, payload })).statusCode).toBe(200);
  const assignment = { circuit: 1, plate: 1 };
  const at = `/api/v1/sensors/${shop.id}/assignment`;
  const put = await shop.app.inject({ method: 'PUT', url: at, payload: assignment });
  expect(put.statusCode).toBe(200);
}

it('a good outlet is proven adequate, kept, and goes stale with another cord', async () => {
  await open('bay-2');
  await save([{ awg: 8, feet: 25 }]);
  const { check, steps } = await follow(await begin([{ awg: 8, feet: 25 }]));
  expect(steps.slice(-2)).toEqual(['first-bead', 'judged']);
  expect(check.result).toMatchObject({
    ...{ person: 'Ida', place: 'Bay 2, left', machine: 'Gannet 220 Pulse', verdict: 'adequate' },
    cords: [{ awg: 8, feet: 25 }],
  });
  expect(check.result!.atFullLoad!.volts95[0]).toBeGreaterThan(216);
  expect(check.result!.beads[0]!.shareOfFull).toBeGreaterThan(0.4);
  expect(check.staleness).toMatchObject({ stale: false, why: [] });
  const circuit = {
    name: 'Bay 2, 240 V welder outlet',
    volts: 240,
    cords: [{ awg: 10, feet: 50 }],
  };
  const [stored] = await ask<StoredCircuit[]>('/circuits');
  const url = `/api/v1/circuits/1?version=${stored!.version}`;
  const put = await shop.app.inject({ method: 'PUT', url, payload: circuit });
  expect(put.statusCode).toBe(200);
  const [kept] = await ask<KeptCheck[]>('/checks');
  expect(kept).toMatchObject({ id: check.id, verdict: 'adequate', staleness: { stale: true } });
  expect(kept!.staleness.why[0]).toContain('50 ft of 10 AWG');
}, 60_000);

it('a long thin cord is found underpowered; the remedy holds when the cord is tried', async () => {
  await open('bay-1-outlet');
  await save([{ awg: 16, feet: 75 }]);
  const { check } = await follow(await begin([{ awg: 16, feet: 75 }]));
  expect(check.result?.verdict).toBe('underpowered');
  expect(check.result!.remedies.length).toBeGreaterThan(0);
  const remedies = await ask<Remedies>(`/sensors/${shop.id}/remedies`);
  expect(remedies).toMatchObject({ supply: 'measured', plateVolts: 120, needsVolts: 108 });
  expect(remedies.now.verdict).toBe('underpowered');
  const change = remedies.remedies
    .flatMap(({ changes }) => changes)
    .find(({ kind }) => kind === 'cords');
  expect(change).toBeDefined();
  const cord = (change as { cords: { awg: number; feet: number }[] }).cords[0];
  const query = cord ? `awg=${cord.awg}&feet=${cord.feet}` : 'feet=0';
  const { tried } = await ask<Remedies>(`/sensors/${shop.id}/remedies?${query}`);
  expect(tried).toMatchObject({ verdict: 'adequate', cords: cord ? [cord] : [] });
}, 60_000);
