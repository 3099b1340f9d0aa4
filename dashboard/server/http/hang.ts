import type { FastifyRequest } from 'fastify';
import type { Assignment } from '../../../shared/protocol/http.ts';
import { say } from '../../../shared/rules/say.ts';
import { audited } from '../people/audited.ts';
import { differences } from '../people/differences.ts';
import type { StockStore } from '../store/stock-store.ts';
import type { Store } from '../store/store.ts';
import { ProblemError } from './problems.ts';

/** What hangs on a sensor, by id and by name, as the audit list says it. */
export function hangsOn(store: Store, id: string) {
  const record = store.sensors().find(({ sensor }) => sensor === id);
  const named = <Value extends { name: string }>(stock: StockStore<Value>, of?: number | null) =>
    of ? { id: of, name: stock.one(of)?.value.name } : null;
  return {
    circuit: named(store.circuits, record?.circuit),
    plate: named(store.plates, record?.plate),
  };
}

const names = ({ circuit, plate }: ReturnType<typeof hangsOn>) => ({
  ...{ circuit: circuit?.name, plate: plate?.name },
});

/** @throws ProblemError where circuit or plate is none in use. */
export function hang(
  store: Store,
  request: FastifyRequest,
  sensor: string,
  { circuit, plate }: Assignment,
): void {
  audited(store, request, (note) => {
    const before = hangsOn(store, sensor);
    if (!store.assign(sensor, circuit, plate))
      throw new ProblemError('not-found', 'no circuit or no plate in use has that id');
    const after = hangsOn(store, sensor);
    const said = say('hungOtherwise', { sensor, ...differences(names(before), names(after)) });
    if (JSON.stringify(before) !== JSON.stringify(after))
      note({ area: 'assignments', subject: sensor, ...said, before, after });
  });
}
