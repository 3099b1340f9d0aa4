import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import { Problem } from '../../../shared/protocol/http.ts';
import { Check, ChosenStep, KeptCheck, NewCheck } from '../../../shared/protocol/http-check.ts';
import { beginChecked, chosen } from './check-changes.ts';
import { ProblemError } from './problems.ts';
import { idPath, type Parts } from './routes.ts';

/** Outlet checks: begun by a person, fed by the sensor, told over the live feed, kept. */
export const checkRoutes = (parts: Parts): FastifyPluginAsyncTypebox =>
  async function checks(app) {
    const { floor } = parts;
    const tags = ['checks'];
    const there = (check: Check | null, id: number): Check => {
      if (!check) throw new ProblemError('not-found', `there is no check ${id}`);
      return check;
    };

    app.post(
      '/checks',
      {
        schema: {
          ...{ body: NewCheck, tags },
          response: { 201: Check, 400: Problem, 404: Problem, 409: Problem },
        },
      },
      (request, reply) => {
        reply.code(201);
        return beginChecked(parts, request, request.body);
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
      (request) => {
        const { id } = request.params;
        return there(chosen(parts, request, id, request.body.choice), id);
      },
    );
  };
