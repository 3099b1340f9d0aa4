import type { FastifyPluginAsyncTypebox } from '@fastify/type-provider-typebox';
import { Type } from 'typebox';
import { Feeder, KeptFeeder } from '../../../shared/protocol/feeder.ts';
import {
  FeederLoadSchema,
  FeederVersions,
  StoredFeeder,
} from '../../../shared/protocol/http-plan.ts';
import { readKeptFeeder } from '../../../shared/protocol/read-feeder.ts';
import { feederLoad } from '../../../shared/rules/feeder-load.ts';
import { limits } from '../limits.ts';
import type { Floor } from '../live/floor.ts';
import { measuredCircuits } from '../live/measured-circuits.ts';
import type { Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';
import type { Parts } from './routes.ts';
import { versionedRoutes } from './versioned-routes.ts';

/** Feeders: what carries several circuits, and what hangs on each of them now. */
export const feederRoutes = ({ store, floor }: Parts): FastifyPluginAsyncTypebox =>
  async function feeders(app) {
    versionedRoutes<KeptFeeder>(app, store, {
      ...{ name: 'feeder', stock: store.feeders, most: limits.feeders, read: readKeptFeeder },
      schemas: { value: KeptFeeder, stored: StoredFeeder, versions: FeederVersions },
      checkFits: (feeder, id) => checkCircuits(store, feeder, id),
      told: (feeder) => ({ ...feeder, circuits: names(store, feeder).join('; ') }),
    });
    app.get(
      '/feeders/loads',
      { schema: { response: { 200: Type.Array(FeederLoadSchema) }, tags: ['shop'] } },
      () => loads(store, floor),
    );
    app.get(
      '/plan/feeders',
      { schema: { response: { 200: Type.Array(Feeder) }, tags: ['plans'] } },
      () => namedFeeders(store),
    );
  };

const inUse = (store: Store) => store.feeders.list().filter(({ retired }) => !retired);

/** A reader of the list of changes knows no numbers. */
const names = (store: Store, { circuits }: KeptFeeder): string[] =>
  circuits.map((id) => store.circuits.one(id)?.value.name ?? `circuit ${id}`);

/** Circuits that are there, and hang on no other feeder; by path, as every other fault. */
function checkCircuits(store: Store, feeder: KeptFeeder, own: number | null): void {
  const others = inUse(store).filter(({ id }) => id !== own);
  const faults = feeder.circuits.flatMap((circuit, at) => {
    const known = store.circuits.one(circuit);
    if (!known) return [`circuits[${at}] is ${circuit}, and no circuit has that number`];
    if (known.retired) return [`circuits[${at}] is "${known.value.name}", which is retired`];
    const other = others.find((each) => each.value.circuits.includes(circuit));
    return other ? [`circuits[${at}] hangs on "${other.value.name}" already`] : [];
  });
  if (others.some((each) => each.value.name === feeder.name))
    faults.push(`name is "${feeder.name}", as another feeder is: give each its own`);
  if (faults.length > 0) throw new ProblemError('bad-request', faults.join('; '));
}

/** As plans take them: by the circuits' names. */
function namedFeeders(store: Store): Feeder[] {
  return inUse(store).flatMap(({ value: feeder }) => {
    const circuits = feeder.circuits.flatMap((id) => {
      const circuit = store.circuits.one(id);
      return circuit && !circuit.retired ? [circuit.value.name] : [];
    });
    return circuits.length > 0 ? [{ ...feeder, circuits }] : [];
  });
}

/** Every feeder against the machines that hang on its circuits now. */
function loads(store: Store, floor: Floor) {
  const circuits = store.circuits.list();
  const values = measuredCircuits(store, floor);
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
