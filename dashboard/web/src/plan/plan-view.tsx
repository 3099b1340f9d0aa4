import { useEffect, useState } from 'preact/hooks';
import type { Plan, PlannedCircuit } from '../../../../shared/protocol/planning.ts';
import { planCircuits, planFeeders, planFor, storedPlates } from '../parts/api.ts';
import { words } from '../parts/words.ts';
import { CircuitList, MachineList, NeedList } from './plan-lists.tsx';
import { PlanResult } from './plan-result.tsx';
import { type Chosen, listsOf, type MachineLine, newNeed } from './plan-wish.ts';

/** Before buying: which machines the circuits can feed, and what covers the work. */
export function PlanView() {
  const [wish, setWish] = useState<Chosen | null>(null);
  const [made, setMade] = useState<Plan | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    Promise.all([planCircuits(), storedPlates(), planFeeders()]).then(
      ([circuits, plates, feeders]) => setWish({ ...firstWish(circuits, plates), feeders }),
      (error: Error) => setFault(error.message),
    );
  }, []);
  const work = async (event: Event) => {
    event.preventDefault();
    if (!wish) return;
    setFault('');
    try {
      setMade(await planFor(listsOf(wish)));
      setTimeout(() => document.querySelector<HTMLElement>('#plan-made')?.focus(), 0);
    } catch (error) {
      setMade(null);
      setFault((error as Error).message);
    }
  };
  return (
    <main class="narrow plan">
      <h1 tabIndex={-1}>{words.plan.heading}</h1>
      <p>{words.plan.what}</p>
      {wish && (
        <form onSubmit={work}>
          <MachineList wish={wish} onWish={setWish} />
          <CircuitList wish={wish} onWish={setWish} />
          <NeedList wish={wish} onWish={setWish} />
          <p class="fault" role="alert">
            {fault && words.plan.none(fault)}
          </p>
          <button type="submit" class="wide main big">
            {words.plan.workOut}
          </button>
        </form>
      )}
      {!wish && <p class="fault">{fault}</p>}
      {made && <PlanResult plan={made} />}
    </main>
  );
}

function firstWish(
  circuits: PlannedCircuit[],
  plates: Awaited<ReturnType<typeof storedPlates>>,
): Chosen {
  const machines = plates.map(
    ({ plate }): MachineLine => ({
      plate,
      chosen: true,
      owned: true,
      price: '',
      processes: plate.pulse ? ['mig-steel', 'mig-aluminium', 'mig-braze'] : ['mig-steel'],
    }),
  );
  return {
    machines,
    circuits: circuits.map((circuit) => ({ circuit, chosen: true })),
    needs: [newNeed(words.plan.firstWork, '120')],
    feeders: [],
    pasted: { machines: '', circuits: '', needs: '' },
  };
}
