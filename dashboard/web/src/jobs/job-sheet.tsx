import { useState } from 'preact/hooks';
import type { JobView, SetUpView } from '../../../../shared/protocol/http-jobs.ts';
import { when } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { YourName } from '../people/your-name.tsx';
import { HeatNow } from './heat-line.tsx';
import { closeJob, jobSheet, timesPath } from './job-api.ts';
import { minutes, useFresh } from './parts.tsx';

/** One vehicle's sheet: its set-ups, their time for the bill, and the way to print. */
export function JobSheet({ id }: { id: number }) {
  const [job, fault, setJob] = useFresh(() => jobSheet(id), id);
  const [no, setNo] = useState('');
  if (!job)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>{fault || words.jobs.fetching}</h1>
      </main>
    );
  const close = () => closeJob(id).then(setJob, (error: Error) => setNo(error.message));
  return (
    <main class="narrow jobs">
      <p class="back">
        <a href="#/jobs">← {words.jobs.back}</a>
      </p>
      <h1 tabIndex={-1}>
        {words.jobs.job(job.number)}: {job.vehicle}
      </h1>
      <p class="about">
        {words.jobs.opened(job.opened.by, when(job.opened.at))}
        {job.closed && `; ${words.jobs.closed(job.closed.by, when(job.closed.at))}`}
      </p>
      <section>
        <h2>{words.jobs.setUps}</h2>
        {job.all.length === 0 && <p class="empty">{words.jobs.noSetUps}</p>}
        <ul class="job-list">
          {job.all.map((setUp) => (
            <SetUpItem key={setUp.id} setUp={setUp} />
          ))}
        </ul>
        {!job.closed && (
          <a class="button main wide big" href={`#/new-set-up/${job.id}`}>
            {words.jobs.newSetUp}
          </a>
        )}
      </section>
      <Times job={job} />
      <p class="actions">
        <a class="button" href={`#/welds/${job.id}`}>
          {words.jobs.sheets}
        </a>
      </p>
      {!job.closed && (
        <section class="rows">
          <YourName />
          <p class="fault" role="alert">
            {no}
          </p>
          <button type="button" onClick={close}>
            {words.jobs.close}
          </button>
        </section>
      )}
    </main>
  );
}

function SetUpItem({ setUp }: { setUp: SetUpView }) {
  const { work, procedure } = setUp.sheet;
  return (
    <li>
      <a href={`#/set-up/${setUp.id}`}>
        <strong>{words.jobs.stages[setUp.stage]}</strong>
        <span>
          {words.parts.processes[work.process]}, {words.jobs.joints[work.joint]},{' '}
          {procedure.reference}
        </span>
        <small>
          {minutes(setUp.clock.seconds)} · {setUp.sensor} · {when(setUp.begun.at)}
        </small>
      </a>
      <HeatNow sensor={setUp.sensor} setUp={setUp.id} />
    </li>
  );
}

/** Apart from all other labour, to copy onto a bill. */
function Times({ job }: { job: JobView }) {
  const [copied, setCopied] = useState(false);
  const time = minutes(job.setUpSeconds);
  const bill = words.jobs.bill(job.number, time, job.setUps, job.coupons);
  const copy = () => {
    // Not there over plain HTTP from another device: the sentence can be marked by hand.
    navigator.clipboard?.writeText(bill).then(
      () => setCopied(true),
      () => undefined,
    );
  };
  return (
    <section>
      <h2>{words.jobs.times}</h2>
      <p class="bill">{bill}</p>
      <p class="actions">
        <button type="button" onClick={copy}>
          {words.jobs.copy}
        </button>
        <a class="button" href={timesPath(job.id)} download>
          {words.jobs.csv}
        </a>
        <span role="status">{copied ? words.jobs.copied : ''}</span>
      </p>
    </section>
  );
}
