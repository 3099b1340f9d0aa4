import { useEffect, useState } from 'preact/hooks';
import type { ArcDetail } from '../../../../shared/protocol/http.ts';
import type { CouponView, JobView } from '../../../../shared/protocol/http-jobs.ts';
import { Findings } from '../arc/findings.tsx';
import { Verdict } from '../arc/verdict.tsx';
import { arcDetail } from '../parts/api.ts';
import { FactTable } from '../parts/fact-table.tsx';
import { figure, when } from '../parts/format.ts';
import { saidInTurn } from '../parts/said.ts';
import { words } from '../parts/words.ts';
import { jobArcs, jobSheet } from './job-api.ts';
import { Cautions, sizeText } from './parts.tsx';

/** Sheets of one printing: what a phone can lay out. */
const mostSheets = 200;

interface Gathered {
  job: JobView;
  welds: ArcDetail[];
  more: boolean;
}

/** Every weld of a job, or one, each on a page of its own: what it was welded on, and behind. */
export function WeldSheets({ job: id, only }: { job: number; only: number | null }) {
  const [all, setAll] = useState<Gathered | null>(null);
  const [fault, setFault] = useState('');
  useEffect(() => {
    gather(id, only).then(setAll, (error: Error) => setFault(error.message));
  }, [id, only]);
  if (!all)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>{fault || words.jobs.fetching}</h1>
      </main>
    );
  const { job, welds, more } = all;
  return (
    <main class="jobs weld-sheets">
      <p class="back no-print">
        <a href={`#/job/${id}`}>← {words.jobs.job(job.number)}</a>
      </p>
      <h1 class="no-print" tabIndex={-1}>
        {words.jobs.sheets}
      </h1>
      <p class="actions no-print">
        <button type="button" class="main" onClick={() => print()}>
          {words.jobs.print}
        </button>
      </p>
      {more && <p class="no-print">{words.jobs.onlySo(mostSheets)}</p>}
      {welds.length === 0 && <p class="empty">{words.jobs.noArcs}</p>}
      {welds.map((detail, at) => (
        <WeldSheet
          key={detail.summary.id}
          job={job}
          detail={detail}
          at={at + 1}
          of={welds.length}
        />
      ))}
    </main>
  );
}

async function gather(id: number, only: number | null): Promise<Gathered> {
  const job = await jobSheet(id);
  if (only !== null) return { job, welds: [await arcDetail(only)], more: false };
  const ids: number[] = [];
  let before: string | null = null;
  do {
    const page: Awaited<ReturnType<typeof jobArcs>> = await jobArcs(id, null, before);
    ids.push(...page.arcs.map((arc) => arc.id));
    before = page.next;
  } while (before !== null && ids.length < mostSheets);
  const welds: ArcDetail[] = [];
  // In the order they were welded, a few at a time.
  const wanted = ids.slice(0, mostSheets).reverse();
  for (let at = 0; at < wanted.length; at += 8)
    welds.push(...(await Promise.all(wanted.slice(at, at + 8).map(arcDetail))));
  return { job, welds, more: before !== null || ids.length > mostSheets };
}

interface WeldSheetProps {
  job: JobView;
  detail: ArcDetail;
  at: number;
  of: number;
}

function WeldSheet({ job, detail, at, of }: WeldSheetProps) {
  const { weld } = detail.summary;
  const setUp = job.all.find(({ id }) => id === weld?.setUp);
  const coupon = setUp?.coupons.find(({ id }) => id === weld?.coupon);
  return (
    <article class="weld weld-sheet" aria-label={words.jobs.weldOf(at, of)}>
      <header>
        <strong>
          {words.jobs.job(job.number)}: {job.vehicle}
        </strong>
        <span>{words.jobs.weldOf(at, of)}</span>
      </header>
      <Verdict detail={detail} />
      {setUp && (
        <p class="about">
          {words.parts.processes[setUp.sheet.work.process]},{' '}
          {words.jobs.joints[setUp.sheet.work.joint]},{' '}
          {setUp.sheet.work.sheets
            .map(({ metal, thick }) => `${metal} ${sizeText(thick)}`)
            .join(' / ')}
          . {setUp.sheet.procedure.reference}.
        </p>
      )}
      <h2>{words.jobs.tests}</h2>
      {weld?.on === 'coupon' && <p>{words.jobs.onCoupon}</p>}
      {coupon ? <CouponFacts coupon={coupon} /> : <p>{words.jobs.noCoupon}</p>}
      <SupplyFacts detail={detail} />
      <Findings findings={detail.arc.findings} />
      <Cautions />
    </article>
  );
}

function CouponFacts({ coupon }: { coupon: CouponView }) {
  const { visual, destructive, decided, bandWatts, knobs, stale } = coupon;
  const { jobs } = words;
  const pass = (is: boolean) => (is ? jobs.pass : jobs.fail);
  const looked = ({ pass: is, measured }: { pass: boolean; measured?: { mm?: number } }) =>
    pass(is) + (measured ? ` (${sizeText(measured)})` : '');
  const rows: [string, string][] = [
    [jobs.coupon(coupon.id), decided ? jobs.decided[decided.outcome] : jobs.outcomes.unfinished],
    ...(decided
      ? ([[jobs.decidedBy, `${decided.by}, ${when(decided.at)}`]] as [string, string][])
      : []),
    ...(knobs ? ([[jobs.knobs, knobs]] as [string, string][]) : []),
  ];
  if (visual) {
    const { undercut, porosity, burnThrough, size } = visual.test;
    rows.push(
      [`${jobs.visual}: ${jobs.undercut}`, looked(undercut)],
      [`${jobs.visual}: ${jobs.porosity}`, looked(porosity)],
      [`${jobs.visual}: ${jobs.burnThrough}`, looked(burnThrough)],
      [`${jobs.visual}: ${jobs.size}`, looked(size)],
    );
  }
  if (destructive) {
    const { method, button, pass: is } = destructive.test;
    const torn = button ? ` (${sizeText(button)})` : '';
    rows.push([`${jobs.destructive}: ${jobs.methods[method]}`, pass(is) + torn]);
  }
  if (bandWatts)
    rows.push([jobs.watts, jobs.band(figure(bandWatts[0], 0), figure(bandWatts[1], 0))]);
  if (stale) rows.push([when(stale.at), jobs.staleWhy(saidInTurn(stale.why, stale.sayings))]);
  return <FactTable rows={rows} />;
}

function SupplyFacts({ detail: { arc } }: { detail: ArcDetail }) {
  const { jobs } = words;
  const { channels, between = [] } = arc;
  const rows = [...channels, ...between].flatMap((channel, at): [string, string][] => {
    const one = at - channels.length;
    const pair =
      one >= 0
        ? `, ${words.arc.figures.between(one + 1, ((one + 1) % channels.length) + 1)}`
        : channels.length > 1
          ? ` ${at + 1}`
          : '';
    const { idleVolts, meanVolts, minVolts200ms, meanAmps, maxAmps200ms, meanWatts } = channel;
    return [
      [
        jobs.volts + pair,
        `${figure(idleVolts)} V, ${figure(meanVolts)} V, ${figure(minVolts200ms)} V`,
      ],
      [jobs.amps + pair, `${figure(meanAmps)} A, ${figure(maxAmps200ms)} A`],
      [jobs.watts + pair, `${figure(meanWatts, 0)} W`],
    ];
  });
  return (
    <>
      <h2>{jobs.figures}</h2>
      <FactTable rows={rows} />
    </>
  );
}
