import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import type { Circuit } from '../../../shared/protocol/circuit.ts';
import { Problem } from '../../../shared/protocol/http.ts';
import { Check, ChosenStep, KeptCheck, NewCheck } from '../../../shared/protocol/http-check.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { nameFaults } from '../../../shared/protocol/schema-faults.ts';
import { ProblemError } from './problems.ts';
import { idPath, must, type Parts } from './routes.ts';

/** Outlet checks: begun by a person, fed by the sensor, told over the live feed, kept. */
export const checkRoutes = ({ store, floor, ingest }: Parts): FastifyPluginAsyncTypebox =>
  async function checks(app) {
    const tags = ['checks'];
    const there = (check: Check | null, id: number): Check => {
      if (!check) throw new ProblemError('not-found', `there is no check ${id}`);
      return check;
    };

    /** Hangs on the sensor what the person says stands there; gives the sensor as it is then. */
    const setUp = ({ sensor, circuit: circuitId, plate, cords }: NewCheck) => {
      const hung = floor.sensor(sensor);
      if (!hung) throw new ProblemError('not-found', `there is no sensor "${sensor}"`);
      const stored = store.circuits().find(({ id }) => id === circuitId);
      if (!stored) throw new ProblemError('not-found', `no circuit ${circuitId}`);
      const before = JSON.stringify(stored.circuit);
      const circuit: Circuit = must(readCircuit({ ...stored.circuit, cords }));
      const sameCircuit = JSON.stringify(circuit) === before;
      const samePlace = hung.circuit?.id === circuitId && hung.plate?.id === plate;
      if (!samePlace && !store.assign(sensor, circuitId, plate))
        throw new ProblemError('not-found', `no plate ${plate}`);
      if (!sameCircuit) store.setCircuit(circuitId, circuit);
      if (!sameCircuit || !samePlace) ingest.reassign();
      return hung;
    };

    app.post(
      '/checks',
      {
        schema: {
          ...{ body: NewCheck, tags },
          response: { 201: Check, 400: Problem, 404: Problem },
        },
      },
      ({ body }, reply) => {
        const { person, place, cordFrom } = body;
        for (const [key, words] of Object.entries({ person, place }))
          for (const { says } of nameFaults(words))
            throw new ProblemError('bad-request', `${key} ${says}`);
        const sensor = setUp(body);
        reply.code(201);
        return floor.checks.begin(sensor, { person, place, cordFrom });
      },
    );
    app.get(
      '/checks',
      {
        schema: {
          querystring: Type.Object({ sensor: Type.Optional(Type.String({ maxLength: 65 })) }),
          response: { 200: Type.Array(KeptCheck) },
          tags,
        },
      },
      ({ query }) => floor.checks.kept(query.sensor),
    );
    app.get(
      '/checks/:id',
      { schema: { params: idPath, response: { 200: Check, 404: Problem }, tags } },
      ({ params: { id } }) => there(floor.checks.view(id), id),
    );
    app.post(
      '/checks/:id/choice',
      {
        schema: {
          ...{ params: idPath, body: ChosenStep, tags },
          response: { 200: Check, 400: Problem, 404: Problem },
        },
      },
      ({ params: { id }, body }) => there(floor.checks.choose(id, body.choice), id),
    );
  };
