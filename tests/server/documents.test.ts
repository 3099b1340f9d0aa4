import { createRequire } from 'node:module';
import { Validator } from '@seriousme/openapi-schema-validator';
import { Ajv } from 'ajv';
import formats from 'ajv-formats';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { messageSchemas } from '../../shared/protocol/messages.ts';
import { delivery, sensorKinds, serverKinds } from '../../shared/protocol/topics.ts';
import { type Built, buildServer } from './built.ts';
import { batchOf, bay, block, newArc, stamp } from './given.ts';

type Json = Record<string, never>;
let built: Built;
beforeAll(async () => {
  built = await buildServer();
});
afterAll(() => built.close());
const document = async (name: string) =>
  (await built.app.inject(`/api/v1/${name}.json`)).json() as Record<string, Json>;

describe('the AsyncAPI document', () => {
  const kinds = [...sensorKinds, ...serverKinds];

  test('is valid against the schema of AsyncAPI 3.0', async () => {
    const specs = createRequire(import.meta.url)('@asyncapi/specs') as {
      schemasWithoutId: Record<string, object>;
    };
    const ajv = new Ajv({ strict: false, validateSchema: false, allErrors: true });
    (formats as unknown as (ajv: Ajv) => void)(ajv);
    const validate = ajv.compile(specs.schemasWithoutId['3.0.0']!);
    const written = await document('asyncapi');
    expect(validate(written) ? [] : validate.errors).toEqual([]);
    expect(validate({ ...written, info: {} })).toBe(false);
  });

  test('has every kind of topic, both ways, with its quality and its schema', async () => {
    const { channels, operations, components } = (await document('asyncapi')) as unknown as {
      channels: Record<string, { address: string }>;
      operations: Record<string, { action: string; channel: { $ref: string }; bindings: Json }>;
      components: { schemas: Record<string, object>; messages: Record<string, Json> };
    };
    expect(Object.keys(channels)).toEqual(kinds);
    for (const kind of kinds) {
      expect(channels[kind]!.address).toBe(`stiffline/v1/{site}/{sensor}/${kind}`);
      const own = Object.values(operations).filter(
        ({ channel }) => channel.$ref === `#/channels/${kind}`,
      );
      const action = (serverKinds as readonly string[]).includes(kind) ? 'send' : 'receive';
      expect(own).toMatchObject([{ action, bindings: { mqtt: delivery[kind] } }]);
      expect(components.messages[kind]).toMatchObject({ contentType: 'application/cbor' });
      const schema = components.schemas[kind[0]!.toUpperCase() + kind.slice(1)];
      expect(schema).toEqual(JSON.parse(JSON.stringify(messageSchemas[kind])));
    }
    expect(JSON.stringify(components.schemas.Wave)).toContain('tag 77');
  });
});

interface Operation {
  responses: Record<string, { content?: Record<string, { schema: object }> }>;
}

describe('the OpenAPI document', () => {
  test('is valid against the schema of OpenAPI 3.1', async () => {
    const validator = new Validator();
    const result = await validator.validate((await document('openapi')) as never);
    expect(result.errors ?? []).toEqual([]);
    expect(validator.version).toBe('3.1');
    expect((await new Validator().validate({ openapi: '3.1.0', paths: {} })).valid).toBe(false);
  });

  test('every route that looks answers in a shape that the document has', async () => {
    fill();
    const job = { number: '17', vehicle: 'a van', by: 'Ida' };
    await built.app.inject({ method: 'POST', url: '/api/v1/jobs', payload: job });
    const { paths } = (await document('openapi')) as unknown as {
      paths: Record<string, { get?: Operation }>;
    };
    const looking = Object.entries(paths).flatMap(([path, { get }]) =>
      get ? [[path, get] as const] : [],
    );
    expect(looking.length).toBeGreaterThan(20);
    const ajv = new Ajv({ strict: false, validateSchema: false, allErrors: true });
    (formats as unknown as (ajv: Ajv) => void)(ajv);
    const answered: number[] = [];
    const faults: string[] = [];
    for (const [path, { responses }] of looking) {
      const answer = await built.app.inject(address(path));
      answered.push(answer.statusCode);
      const contents = Object.entries(responses[answer.statusCode]?.content ?? {});
      const type = String(answer.headers['content-type']).split(';')[0]!;
      const content = contents.find(([each]) => each.split(';')[0] === type) ?? contents[0];
      if (!content) faults.push(`${path} does not say what ${answer.statusCode} ${type} is`);
      if (!content || !type.endsWith('json')) continue;
      const fits = ajv.compile(content[1].schema);
      if (!fits(answer.json())) faults.push(`${path}: ${ajv.errorsText(fits.errors)}`);
    }
    expect(faults).toEqual([]);
    const well = answered.filter((status) => status === 200).length;
    // What needs a plan, a machine or a person's rights may say no; most must say yes.
    expect(well).toBeGreaterThanOrEqual(looking.length - 4);
  });
});

function fill(): void {
  const { store } = built;
  const circuit = store.circuits.add({ name: 'Bay 1', volts: 120, hertz: 60 }, stamp);
  const supply = [{ U1: 120, I1max: 23 }];
  const plate = store.plates.add({ name: 'Tern 100', phases: 1, supply }, stamp);
  store.assign(bay, circuit.id, plate.id);
  const arc = { ...newArc(10_240), plate: plate.value, circuit: circuit.value };
  const blocks = Array.from({ length: 40 }, (_, at) => {
    const data = Int16Array.from({ length: 2_048 }, (_, each) => {
      const angle = (2 * Math.PI * 60 * (at * 1_024 + (each >> 1))) / 10_240;
      return Math.round(12_000 * Math.sin(angle));
    });
    return block(at + 1, at * 1_024, { data });
  });
  const supplied = {
    ...{ openVolts: 120, ohmsR: 0.2, ohmsX: 0.1, steps: 4 },
    ...{ ohmsR95: [0.1, 0.3] as [number, number], ohmsX95: [0, 0.2] as [number, number] },
  };
  const at = { sensor: bay, boot: 1, sample: 20_480, atUs: 2e6 };
  const event = {
    ...{ atS: 2, channel: 1, volts: -2, halfWidthVolts: 0.2 },
    ...{ amps: null, halfWidthAmps: null, duringArc: false },
  };
  store.commit(
    batchOf({
      ...{ arcs: [arc], blocks },
      supplies: [{ ...at, wiring: '', pair: 1, supply: supplied }],
      otherLoads: [{ ...at, event }],
    }),
  );
  store.addCheck(bay, {
    ...{ date: '2026-11-25T08:00:00Z', person: 'Ida', place: 'Bay 2', cordFrom: 'first-bead' },
  });
}

/** A path with what `fill` has put there, and the queries that must be. */
function address(path: string): string {
  const filled = path.replace('{sensor}', bay).replaceAll('{id}', '1');
  const spans = ['/history', '/sags', '/supply', '/other-loads', '/history.csv'];
  const query = 'from=1970-01-01T00:00:00Z&to=1970-01-02T00:00:00Z';
  return spans.some((end) => filled.endsWith(end)) ? `${filled}?${query}` : filled;
}
