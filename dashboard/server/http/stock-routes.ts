import type { FastifyInstance } from 'fastify';
import { Circuit } from '../../../shared/protocol/circuit.ts';
import {
  CircuitVersions,
  PlateVersions,
  StoredCircuit,
  StoredPlate,
} from '../../../shared/protocol/http.ts';
import { Plate } from '../../../shared/protocol/plate.ts';
import { readCircuit } from '../../../shared/protocol/read-circuit.ts';
import { readPlate } from '../../../shared/protocol/read-plate.ts';
import { limits } from '../limits.ts';
import type { Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';
import type { Parts } from './routes.ts';
import { versionedRoutes } from './versioned-routes.ts';

/** Circuits and plates: what the sensors hang on. */
export const stockRoutes = ({ store, ingest }: Parts) =>
  async function stocks(app: FastifyInstance): Promise<void> {
    const { circuits, plates } = store;
    const onChange = () => ingest.reassign();
    versionedRoutes<Circuit>(app, store, {
      ...{ name: 'circuit', stock: circuits, most: limits.circuits },
      schemas: { value: Circuit, stored: StoredCircuit, versions: CircuitVersions },
      ...{ read: readCircuit, onChange },
      checkUnused: (id) => {
        checkNoSensor(store, 'circuit', id);
        checkNoFeeder(store, id);
      },
    });
    versionedRoutes<Plate>(app, store, {
      ...{ name: 'plate', stock: plates, most: limits.plates },
      schemas: { value: Plate, stored: StoredPlate, versions: PlateVersions },
      ...{ read: readPlate, onChange },
      checkUnused: (id) => checkNoSensor(store, 'plate', id),
    });
  };

function checkNoSensor(store: Store, name: 'circuit' | 'plate', id: number): void {
  const user = store.sensors().find((sensor) => sensor[name] === id);
  if (user)
    throw new ProblemError('in-use', `it hangs on the sensor "${user.sensor}": set another there`);
}

function checkNoFeeder(store: Store, circuit: number): void {
  const feeder = store.feeders
    .list()
    .find(({ retired, value }) => !retired && value.circuits.includes(circuit));
  if (feeder)
    throw new ProblemError('in-use', `it hangs on the feeder "${feeder.value.name}": take it off`);
}
