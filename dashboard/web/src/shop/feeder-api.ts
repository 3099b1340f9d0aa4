import type { FeederLoad, KeptFeeder } from '../../../../shared/protocol/feeder.ts';
import type { StoredFeeder } from '../../../../shared/protocol/http-plan.ts';
import { get, send } from '../parts/api.ts';

export const everyFeeder = () => get<StoredFeeder[]>('/feeders');
/** Of each feeder that has a circuit in use: what hangs on it now. */
export const feederLoads = () => get<FeederLoad[]>('/feeders/loads');
export const saveFeeder = (id: number | null, feeder: KeptFeeder) =>
  id === null
    ? send<StoredFeeder>('POST', '/feeders', feeder)
    : send<StoredFeeder>('PUT', `/feeders/${id}`, feeder);
export const removeFeeder = (id: number) => send<null>('DELETE', `/feeders/${id}`);
