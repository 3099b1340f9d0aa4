import type { Route } from '../read-route.ts';
import { RemedyView } from '../remedy/remedy-view.tsx';
import { BeginCheck } from './begin-check.tsx';
import { CheckView } from './check-view.tsx';

/** The outlet check, as it begins and goes on; and what would make an outlet right. */
export function CheckRoom({ where }: { where: Route }) {
  if (where.view === 'check') return <CheckView key={where.id} id={where.id} />;
  if (where.view === 'checks') return <BeginCheck key={where.sensor} sensor={where.sensor} />;
  if (where.view === 'right') return <RemedyView key={where.sensor} sensor={where.sensor} />;
  return null;
}
