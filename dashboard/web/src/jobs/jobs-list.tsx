import { useState } from 'preact/hooks';
import type { JobLine } from '../../../../shared/protocol/http-jobs.ts';
import { when } from '../parts/format.ts';
import { Typed } from '../parts/typed.tsx';
import { words } from '../parts/words.ts';
import { YourName } from '../people/your-name.tsx';
import { jobPage, openJob } from './job-api.ts';
import { minutes, useFresh } from './parts.tsx';

/** Job sheets, newest first, and a new one. */
export function JobsList() {
  const [open, setOpen] = useState(true);
  const [older, setOlder] = useState<{ jobs: JobLine[]; next: number | null } | null>(null);
  const [page, fault] = useFresh(() => jobPage(open || null, null), open);
  const next = older ? older.next : (page?.next ?? null);
  const more = async () => {
    const found = await jobPage(open || null, next);
    setOlder({ jobs: [...(older?.jobs ?? []), ...found.jobs], next: found.next });
  };
  const show = (which: boolean) => {
    setOpen(which);
    setOlder(null);
  };
  const jobs = [...(page?.jobs ?? []), ...(older?.jobs ?? [])];
  return (
    <main class="narrow jobs">
      <h1 tabIndex={-1}>{words.jobs.heading}</h1>
      <p>{words.jobs.what}</p>
      <p class="fault" role="alert">
        {fault}
      </p>
      <fieldset class="choices">
        <legend class="unseen">{words.jobs.which}</legend>
        {([true, false] as const).map((which) => (
          <label key={String(which)}>
            <input
              type="radio"
              name="which"
              checked={open === which}
              onChange={() => show(which)}
            />
            <span>{which ? words.jobs.open : words.jobs.all}</span>
          </label>
        ))}
      </fieldset>
      {page && jobs.length === 0 && <p class="empty">{words.jobs.none}</p>}
      <ul class="job-list">
        {jobs.map((job) => (
          <JobItem key={job.id} job={job} />
        ))}
      </ul>
      {next !== null && (
        <button type="button" class="wide" onClick={more}>
          {words.jobs.older}
        </button>
      )}
      <NewJob />
    </main>
  );
}

function JobItem({ job }: { job: JobLine }) {
  return (
    <li>
      <a href={`#/job/${job.id}`}>
        <strong>
          {job.number} · {job.vehicle}
        </strong>
        <small>
          {words.jobs.line(job.setUps, job.coupons, minutes(job.setUpSeconds))}
          {' · '}
          {job.closed
            ? words.jobs.closed(job.closed.by, when(job.closed.at))
            : words.jobs.opened(job.opened.by, when(job.opened.at))}
        </small>
      </a>
    </li>
  );
}

function NewJob() {
  const [number, setNumber] = useState('');
  const [vehicle, setVehicle] = useState('');
  const [fault, setFault] = useState('');
  const begin = async (event: Event) => {
    event.preventDefault();
    try {
      const job = await openJob({ number, vehicle });
      location.hash = `#/job/${job.id}`;
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  return (
    <form class="editor rows" onSubmit={begin}>
      <h2>{words.jobs.begin}</h2>
      <Typed label={words.jobs.number} value={number} onTyped={setNumber} most={40} />
      <Typed label={words.jobs.vehicle} value={vehicle} onTyped={setVehicle} most={160} />
      <YourName />
      <p class="fault" role="alert">
        {fault}
      </p>
      <button type="submit" class="wide main big">
        {words.jobs.begin}
      </button>
    </form>
  );
}
