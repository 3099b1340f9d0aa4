import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import { Feeder, KeptFeeder } from '../../../shared/protocol/feeder.ts';
import { Problem } from '../../../shared/protocol/http.ts';
import { FeederLoadSchema, StoredFeeder } from '../../../shared/protocol/http-plan.ts';
import { readKeptFeeder } from '../../../shared/protocol/read-feeder.ts';
import { feederLoad } from '../../../shared/rules/feeder-load.ts';
import { limits } from '../limits.ts';
import { audited } from '../people/audited.ts';
import { differences } from '../people/differences.ts';
import type { Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';
import { idPath, must, type Parts, readHere } from './routes.ts';

const tags = ['shop'];
const response = { 200: StoredFeeder, 404: Problem, 409: Problem };
const subject = (id: number) => ({ area: 'feeders' as const, subject: `feeder ${id}` });

/** Feeders: what carries several circuits, and what hangs on each of them now. */
export const feederRoutes = ({ store }: Pick<Parts, 'store'>): FastifyPluginAsyncTypebox =>
  async function feeders(app) {
    app.get('/feeders', { schema: { response: { 200: Type.Array(StoredFeeder) }, tags } }, () =>
      store.feeders.list(),
    );
    app.get(
      '/feeders/loads',
      { schema: { response: { 200: Type.Array(FeederLoadSchema) }, tags } },
      () => loads(store),
    );
    app.get(
      '/plan/feeders',
      { schema: { response: { 200: Type.Array(Feeder) }, tags: ['plans'] } },
      () => namedFeeders(store),
    );
    const body = KeptFeeder;
    app.post(
      '/feeders',
      { ...readHere, schema: { body, response: { 201: StoredFeeder, 409: Problem }, tags } },
      (request, reply) => {
        const feeder = must(readKeptFeeder(request.body));
        const made = audited(store, request, (note) => {
          checkCircuits(store, feeder, null);
          if (store.feeders.list().length >= limits.feeders)
            throw new ProblemError('full', `there are ${limits.feeders} feeders already`);
          const added = store.feeders.add(feeder);
          const says = `added feeder "${feeder.name}"`;
          note({ ...subject(added.id), says, before: null, after: feeder });
          return added;
        });
        reply.code(201);
        return made;
      },
    );
    app.put(
      '/feeders/:id',
      { ...readHere, schema: { params: idPath, body, response, tags } },
      (request) => {
        const { id } = request.params;
        const feeder = must(readKeptFeeder(request.body));
        audited(store, request, (note) => {
          const before = known(store, id);
          checkCircuits(store, feeder, id);
          store.feeders.set(id, feeder);
          const says = `changed feeder "${before.name}": ${differences(before, feeder)}`;
          note({ ...subject(id), says, before, after: feeder });
        });
        return { id, feeder };
      },
    );
    app.delete(
      '/feeders/:id',
      { schema: { params: idPath, response: { 204: Type.Null(), 404: Problem }, tags } },
      (request, reply) => {
        const { id } = request.params;
        audited(store, request, (note) => {
          const before = known(store, id);
          store.feeders.remove(id);
          note({ ...subject(id), says: `took away feeder "${before.name}"`, before, after: null });
        });
        reply.code(204);
        return null;
      },
    );
  };

function known(store: Store, id: number): KeptFeeder {
  const found = store.feeders.list().find((each) => each.id === id);
  if (!found) throw new ProblemError('not-found', `no feeder ${id}`);
  return found.feeder;
}

/** Circuits that are there, and hang on no other feeder; by path, as every other fault. */
function checkCircuits(store: Store, feeder: KeptFeeder, own: number | null): void {
  const others = store.feeders.list().filter(({ id }) => id !== own);
  const faults = feeder.circuits.flatMap((circuit, at) => {
    if (store.circuits.one(circuit)?.retired !== false)
      return [`circuits[${at}] is ${circuit}, and no circuit in use has that number`];
    const other = others.find((each) => each.feeder.circuits.includes(circuit));
    return other ? [`circuits[${at}] hangs on "${other.feeder.name}" already`] : [];
  });
  if (others.some((each) => each.feeder.name === feeder.name))
    faults.push(`name is "${feeder.name}", as another feeder is: give each its own`);
  if (faults.length > 0) throw new ProblemError('bad-request', faults.join('; '));
}

/** As plans take them: by the circuits' names; without those that were retired since. */
function namedFeeders(store: Store): Feeder[] {
  return store.feeders.list().flatMap(({ feeder }) => {
    const circuits = feeder.circuits.flatMap((id) => {
      const circuit = store.circuits.one(id);
      return circuit && !circuit.retired ? [circuit.value.name] : [];
    });
    return circuits.length > 0 ? [{ ...feeder, circuits }] : [];
  });
}

/** Every feeder against the machines that hang on its circuits now. */
function loads(store: Store) {
  const circuits = store.circuits.list();
  const values = circuits.map(({ value }) => value);
  return namedFeeders(store).map((feeder) => {
    const own = circuits
      .filter(({ value }) => feeder.circuits.includes(value.name))
      .map(({ id }) => id);
    const plates = store
      .sensors()
      .filter(({ circuit }) => circuit !== null && own.includes(circuit))
      .flatMap(({ plate }) => (plate === null ? [] : (store.plates.one(plate)?.value ?? [])));
    return feederLoad(feeder, values, plates);
  });
}
