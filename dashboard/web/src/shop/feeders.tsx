import { useEffect, useState } from 'preact/hooks';
import type { FeederLoad } from '../../../../shared/protocol/feeder.ts';
import type { StoredFeeder } from '../../../../shared/protocol/http-plan.ts';
import { figure } from '../parts/format.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { feederLoads } from './feeder-api.ts';

/** The shop's feeders, each with its verdict; what is found of one stands where it is edited. */
export function Feeders({ list }: { list: readonly StoredFeeder[] }) {
  const [loads, setLoads] = useState<FeederLoad[]>([]);
  const [fault, setFault] = useState('');
  useEffect(() => {
    feederLoads().then(setLoads, (error: Error) => setFault(error.message));
  }, []);
  return (
    <section>
      <h2>{words.feeders.heading}</h2>
      <p class="fault" role="alert">
        {fault}
      </p>
      {list.length > 0 && <p>{words.feeders.what}</p>}
      <ul class="stock">
        {list.map(({ id, feeder }) => (
          <li key={id}>
            <a href={`#/edit-feeder/${id}`}>{feeder.name}</a>
            <Verdict load={loads.find((load) => load.feeder === feeder.name)} />
          </li>
        ))}
      </ul>
      <a class="button" href="#/edit-feeder/new">
        {words.feeders.add}
      </a>
    </section>
  );
}

function Verdict({ load }: { load: FeederLoad | undefined }) {
  if (!load) return null;
  return (
    <small class="verdict-word">
      <VerdictMark verdict={load.verdict} size={20} />
      <strong class={load.verdict}>{verdictWord(load.verdict)}</strong>
      {load.machines.length > 0 && <span>{figure(load.groupAmps, 0)} A</span>}
    </small>
  );
}
