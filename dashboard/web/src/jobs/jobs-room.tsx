import type { Route } from '../read-route.ts';
import { JobSheet } from './job-sheet.tsx';
import { JobsList } from './jobs-list.tsx';
import './jobs.css';
import { NewSetUp } from './new-set-up.tsx';
import { SetUp } from './set-up.tsx';
import { WeldSheets } from './weld-sheets.tsx';

/** All views of job sheets. */
export function JobsRoom({ where }: { where: Route }) {
  switch (where.view) {
    case 'job':
      return <JobSheet key={where.id} id={where.id} />;
    case 'new-set-up':
      return <NewSetUp key={where.id} job={where.id} />;
    case 'set-up':
      return <SetUp key={where.id} id={where.id} />;
    case 'welds':
      return <WeldSheets key={where.id} job={where.id} only={where.arc} />;
    default:
      return <JobsList />;
  }
}
