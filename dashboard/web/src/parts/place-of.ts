import type { Sensor } from '../../../../shared/protocol/http.ts';
import type { Place } from '../../../../shared/protocol/judgement.ts';

/** Where a live sensor's voltages are told of: a described circuit says what is after an outlet. */
export const placeOf = ({ at, circuit }: Pick<Sensor, 'at' | 'circuit'>): Place =>
  at === 'outlet' && circuit !== null ? 'machine' : at;
