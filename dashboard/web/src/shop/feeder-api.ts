import type { FeederLoad } from '../../../../shared/protocol/feeder.ts';
import type { StoredFeeder } from '../../../../shared/protocol/http-plan.ts';
import { get } from '../parts/api.ts';

/** With the retired ones. */
export const everyFeeder = () => get<StoredFeeder[]>('/feeders?retired=true');
/** Of each feeder that is in use: what hangs on it now. */
export const feederLoads = () => get<FeederLoad[]>('/feeders/loads');
