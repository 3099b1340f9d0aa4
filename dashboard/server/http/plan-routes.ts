import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import type { Cord } from '../../../shared/protocol/circuit.ts';
import { Circuit } from '../../../shared/protocol/circuit.ts';
import { Problem } from '../../../shared/protocol/http.ts';
import { PlanRequest, PlanSchema, Remedies } from '../../../shared/protocol/http-plan.ts';
import { MeasuredSupply } from '../../../shared/protocol/planning.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { readFeeders } from '../../../shared/protocol/read-feeder.ts';
import { readCircuits, readMachines, readNeeds } from '../../../shared/protocol/read-planning.ts';
import type { Read } from '../../../shared/protocol/schema-faults.ts';
import { plan } from '../../../shared/rules/planning.ts';
import { limits } from '../limits.ts';
import { onMains } from '../live/mains.ts';
import { measuredCircuits } from '../live/measured-circuits.ts';
import { remediesAt } from '../live/remedies-at.ts';
import { ProblemError } from './problems.ts';
import { must, type Parts, sensorPath } from './routes.ts';

const triedCord = Type.Object({
  awg: Type.Optional(Type.String({ maxLength: 3 })),
  mm2: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 500 })),
  feet: Type.Optional(Type.Number({ minimum: 0, maximum: 10_000 })),
  metres: Type.Optional(Type.Number({ minimum: 0, maximum: 3_000 })),
});

const Planned = Type.Object({
  ...Circuit.properties,
  supply: Type.Optional(MeasuredSupply),
});

/** Most faults of one answer: who pastes a wrong list wants the first ones. */
const mostFaults = 20;

/** Plans before buying, and what would make it right at one outlet. */
export const planRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function plans(app) {
    const tags = ['plans'];
    app.get('/plan/circuits', { schema: { response: { 200: Type.Array(Planned) }, tags } }, () =>
      measuredCircuits(store, floor),
    );
    app.post(
      '/plan',
      {
        bodyLimit: limits.planBytes,
        config: { rateLimit: { max: 60, timeWindow: 60_000 } },
        schema: { body: PlanRequest, response: { 200: PlanSchema, 400: Problem }, tags },
      },
      ({ body }) => planOf(body, store.settings.get().hertz),
    );
    app.get(
      '/sensors/:sensor/remedies',
      {
        schema: {
          ...{ params: sensorPath, querystring: triedCord, tags },
          response: { 200: Remedies, 400: Problem, 404: Problem },
        },
      },
      ({ params, query }) => {
        const sensor = floor.sensor(params.sensor);
        if (!sensor) throw new ProblemError('not-found', `there is no sensor "${params.sensor}"`);
        const cords = cordsOf(query);
        const found = remediesAt(sensor, floor.supply(sensor.id), {
          ...{ cords, shopHertz: store.settings.get().hertz },
          circuits: () => measuredCircuits(store, floor),
        });
        if (!found)
          throw new ProblemError('not-found', 'no machine or no circuit is set for this sensor');
        return found;
      },
    );
  };

interface PlanBody {
  machines: unknown;
  circuits: unknown;
  needs: unknown;
  feeders?: unknown;
}

function planOf(body: PlanBody, hertz: 50 | 60 | null) {
  const machines = readMachines(body.machines);
  const circuits = readCircuits(body.circuits);
  const needs = readNeeds(body.needs);
  const feeders = readFeeders(body.feeders ?? [], circuits.ok ? circuits.value : []);
  const faults = [
    ...faultsIn('machines', machines),
    ...faultsIn('circuits', circuits),
    ...faultsIn('needs', needs),
    // Names cannot be held against a list that was refused itself.
    ...(circuits.ok ? faultsIn('feeders', feeders) : []),
  ];
  if (!machines.ok || !circuits.ok || !needs.ok || !feeders.ok)
    throw new ProblemError('bad-request', faults.slice(0, mostFaults).join('; '));
  const pairs = machines.value.length * circuits.value.length;
  if (pairs > limits.planPairs || needs.value.length > limits.planNeeds)
    throw new ProblemError(
      'too-large',
      `${pairs} machines times circuits, ${needs.value.length} needs; here up to ` +
        `${limits.planPairs} and ${limits.planNeeds} are taken: "stiffline plan" takes more`,
    );
  // Those of the shop say it themselves by now; pasted ones may not.
  const fed = circuits.value.map((circuit) => onMains(circuit, [], hertz));
  const made = plan(machines.value, fed, needs.value, feeders.value);
  made.cautions.push(...[machines, circuits, needs, feeders].flatMap(({ questions }) => questions));
  return made;
}

function faultsIn(list: string, read: Read<unknown>): string[] {
  if (read.ok) return [];
  return read.faults.map(({ path, says }) => {
    const joint = path === '' || path.startsWith('[') ? '' : '.';
    return `${list}${joint}${path} ${says}`;
  });
}

/** The cord that is asked about; none where its length is nought, null where none is asked. */
function cordsOf(query: { awg?: string; mm2?: number; feet?: number; metres?: number }) {
  const { awg, ...rest } = query;
  if (Object.keys(query).length === 0) return null;
  if (rest.feet === 0 || rest.metres === 0) return [];
  const gauge = awg === undefined ? {} : { awg: awg.includes('/') ? awg : Number(awg) };
  const cord = { ...gauge, ...rest } as Cord;
  return must(readCircuit({ name: 'asked about', volts: 1, cords: [cord] })).cords ?? [];
}
