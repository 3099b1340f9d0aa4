import { AuditView } from '../people/audit-view.tsx';
import { PeopleView } from '../people/people-view.tsx';
import { PlanView } from '../plan/plan-view.tsx';
import type { Route } from '../read-route.ts';
import { EditCircuit } from './edit-circuit.tsx';
import { EditFeeder } from './edit-feeder.tsx';
import { EditPlate } from './edit-plate.tsx';
import { Shop } from './shop.tsx';

/** What is done at a desk: planning, people, changes, and what the shop has with its editors. */
export function DeskRoom({ where }: { where: Route }) {
  switch (where.view) {
    case 'plan':
      return <PlanView />;
    case 'edit-plate':
      return <EditPlate key={where.id} id={where.id} />;
    case 'edit-circuit':
      return <EditCircuit key={where.id} id={where.id} />;
    case 'edit-feeder':
      return <EditFeeder key={where.id} id={where.id} />;
    case 'people':
      return <PeopleView />;
    case 'audit':
      return <AuditView />;
    default:
      return <Shop />;
  }
}
