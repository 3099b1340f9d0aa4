import { useState } from 'preact/hooks';
import type { ArcSummary } from '../../../../shared/protocol/http.ts';
import type { CouponView, SetUpView } from '../../../../shared/protocol/http-jobs.ts';
import { isBroken } from '../../../../shared/protocol/verdicts.ts';
import { figure, when } from '../parts/format.ts';
import { saidInTurn } from '../parts/said.ts';
import { words } from '../parts/words.ts';
import { YourName } from '../people/your-name.tsx';
import { ArcPicks } from './arc-picks.tsx';
import { CouponTests } from './coupon-tests.tsx';
import { HeatNow } from './heat-line.tsx';
import { beginCoupon, endSetUp, keepArcs, runClock, setUpSheet } from './job-api.ts';
import { ArcLine, Cautions, type Done, SetUpClock, useArcs, useFresh } from './parts.tsx';

/** A set-up, one thing to do at a time: weld the coupon, test it, then the vehicle. */
export function SetUp({ id }: { id: number }) {
  const [setUp, fault, setSetUp] = useFresh(() => setUpSheet(id), id);
  const [no, setNo] = useState('');
  const arcs = useArcs(setUp);
  if (!setUp)
    return (
      <main class="empty">
        <h1 tabIndex={-1}>{fault || words.jobs.fetching}</h1>
      </main>
    );
  const done = (asked: Promise<SetUpView>) => {
    setNo('');
    asked.then(setSetUp, (error: Error) => setNo(error.message));
  };
  const coupon = setUp.coupons.at(-1);
  const { stage } = setUp;
  return (
    <main class="narrow jobs check">
      <p class="back">
        <a href={`#/job/${setUp.job}`}>← {words.jobs.job(setUp.jobNumber)}</a>
      </p>
      <section class="step">
        <div>
          <h1 tabIndex={-1}>{words.jobs.stages[stage]}</h1>
          <p class="do-now" role="status">
            {words.jobs.doNow[stage]}
          </p>
          <SheetLine setUp={setUp} />
        </div>
        <SetUpClock setUp={setUp} />
      </section>
      {stage === 'welding' && coupon && (
        <Welding key={coupon.id} coupon={coupon} arcs={arcs} done={done} />
      )}
      {stage === 'testing' && coupon && (
        <CouponTests key={coupon.id} setUp={setUp} coupon={coupon} arcs={arcs} done={done} />
      )}
      {stage === 'vehicle' && <Vehicle setUp={setUp} arcs={arcs} />}
      <p class="fault" role="alert">
        {no}
      </p>
      {stage !== 'ended' && <Next setUp={setUp} done={done} />}
      <Coupons setUp={setUp} />
      <Cautions />
    </main>
  );
}

function SheetLine({ setUp: { sheet, sensor } }: { setUp: SetUpView }) {
  const { work, procedure } = sheet;
  return (
    <p class="about">
      {words.parts.processes[work.process]}, {words.jobs.joints[work.joint]},{' '}
      {work.sheets.map(({ metal }) => metal).join(' / ')}. {procedure.reference}. {sensor}
    </p>
  );
}

interface WeldingProps {
  coupon: CouponView;
  arcs: readonly ArcSummary[];
  done: Done;
}

/** What the sensor sees of the coupon, as it comes in; all of it belongs to it unless unticked. */
function Welding({ coupon, arcs, done }: WeldingProps) {
  const own = arcs.filter(({ weld }) => weld?.on === 'coupon' && weld.coupon === coupon.id);
  const [not, setNot] = useState<readonly number[]>([]);
  const picked = own.map(({ id }) => id).filter((id) => !not.includes(id));
  const over = () => done(keepArcs(coupon.id, picked));
  return (
    <section>
      <h2>{words.jobs.arcsHere}</h2>
      <ArcPicks arcs={own} not={not} onNot={setNot} />
      <button type="button" class="wide main big" disabled={picked.length === 0} onClick={over}>
        {words.jobs.welded}
      </button>
    </section>
  );
}

/** Arcs on the vehicle since the coupon passed, counted, and each against the band. */
function Vehicle({ setUp, arcs }: { setUp: SetUpView; arcs: readonly ArcSummary[] }) {
  const own = arcs.filter(({ weld }) => weld?.on === 'vehicle');
  const count = (of: (arc: ArcSummary) => boolean) => own.filter(of).length;
  const [low, high] = setUp.bandWatts ?? [];
  return (
    <section>
      <h2>{words.jobs.since}</h2>
      <p>
        {low === undefined ? words.jobs.noBand : words.jobs.band(figure(low, 0), figure(high, 0))}
      </p>
      <HeatNow sensor={setUp.sensor} setUp={setUp.id} />
      <p class="counted">
        {words.jobs.count(
          own.length,
          count(({ verdict }) => isBroken(verdict)),
          count(({ heat }) => heat?.word === 'colder'),
          count(({ heat }) => heat?.word === 'hotter'),
        )}
      </p>
      <ul class="arcs">
        {own.map((arc) => (
          <li key={arc.id}>
            <ArcLine arc={arc} />
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What may be done beside the step itself. */
function Next({ setUp, done }: { setUp: SetUpView; done: Done }) {
  const { id, stage, clock, coupons } = setUp;
  const [knobs, setKnobs] = useState(coupons.at(-1)?.knobs ?? '');
  const first = stage === 'no-coupon' || stage === 'stale';
  return (
    <section class="rows">
      <label class="field">
        {words.jobs.knobs}
        <input
          maxLength={300}
          value={knobs}
          onInput={(event) => setKnobs(event.currentTarget.value)}
        />
      </label>
      <YourName />
      <div class="choices-now">
        <button
          type="button"
          class={first ? 'wide main big' : 'wide'}
          onClick={() => done(beginCoupon(id, knobs))}
        >
          {first ? words.jobs.weldCoupon : words.jobs.weldAnother}
        </button>
        <button type="button" class="wide" onClick={() => done(runClock(id, !clock.running))}>
          {clock.running ? words.jobs.pause : words.jobs.resume}
        </button>
        <button type="button" class="wide" onClick={() => done(endSetUp(id))}>
          {words.jobs.end}
        </button>
      </div>
    </section>
  );
}

/** What became of every coupon so far. */
function Coupons({ setUp }: { setUp: SetUpView }) {
  const decided = setUp.coupons.filter((coupon) => coupon.decided || coupon.stale);
  if (decided.length === 0) return null;
  return (
    <section>
      <h2>{words.jobs.before}</h2>
      <ul class="job-list">
        {decided.map((coupon) => (
          <li key={coupon.id}>
            <strong>
              {words.jobs.coupon(setUp.coupons.indexOf(coupon) + 1)}
              {coupon.decided && `: ${words.jobs.decided[coupon.decided.outcome]}`}
            </strong>
            <small>
              {when((coupon.decided ?? coupon.begun).at)}, {(coupon.decided ?? coupon.begun).by}
              {coupon.knobs && ` · ${coupon.knobs}`}
            </small>
            {coupon.stale && (
              <p>{words.jobs.staleWhy(saidInTurn(coupon.stale.why, coupon.stale.sayings))}</p>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}
