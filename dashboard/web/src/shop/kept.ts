import type { Circuit } from '../../../../shared/protocol/circuit.ts';
import type { KeptFeeder } from '../../../../shared/protocol/feeder.ts';
import type {
  CircuitVersions,
  PlateVersions,
  StoredCircuit,
  StoredPlate,
} from '../../../../shared/protocol/http.ts';
import type { FeederVersions, StoredFeeder } from '../../../../shared/protocol/http-plan.ts';
import type { Plate } from '../../../../shared/protocol/plate.ts';
import { get, query, send } from '../parts/api.ts';
import type { Stock, Stored, Version } from './stock.ts';

/** What the server keeps in versions, by the name that its addresses and answers have for it. */
interface Kinds {
  circuit: { value: Circuit; stored: StoredCircuit; versions: CircuitVersions };
  plate: { value: Plate; stored: StoredPlate; versions: PlateVersions };
  feeder: { value: KeptFeeder; stored: StoredFeeder; versions: FeederVersions };
}

type Calls<Value> = Pick<Stock<Value>, 'all' | 'save' | 'retire' | 'versions'>;

/** The calls to the server that the editors of all of them share. */
export function kept<Name extends keyof Kinds>(name: Name): Calls<Kinds[Name]['value']> {
  type Value = Kinds[Name]['value'];
  const list = `/${name}s`;
  const stored = (of: Kinds[Name]['stored']) =>
    ({ ...of, value: of[name as never] }) as Stored<Value>;
  const sent = async (method: 'POST' | 'PUT', path: string, body: unknown) =>
    stored(await send<Kinds[Name]['stored']>(method, path, body));
  return {
    all: async () => (await get<Kinds[Name]['stored'][]>(`${list}?retired=true`)).map(stored),
    save: (of, value) =>
      of === null
        ? sent('POST', list, value)
        : sent('PUT', `${list}/${of.id}?version=${of.version}`, value),
    retire: (id, retired) => sent('PUT', `${list}/${id}/retirement`, { retired }),
    versions: async (id, before) => {
      const page = await get<Kinds[Name]['versions']>(`${list}/${id}/versions${query({ before })}`);
      const versions = page.versions.map((each) => ({ ...each, value: each[name as never] }));
      return { versions: versions as Version<Value>[], next: page.next };
    },
  };
}
