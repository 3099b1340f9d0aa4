import { useState } from 'preact/hooks';
import type { ArcSummary } from '../../../../shared/protocol/http.ts';
import type { CouponView, SetUpView } from '../../../../shared/protocol/http-jobs.ts';
import type { DestructiveTest, VisualTest } from '../../../../shared/protocol/jobs.ts';
import { isBroken } from '../../../../shared/protocol/verdicts.ts';
import { when } from '../parts/format.ts';
import { words } from '../parts/words.ts';
import { YourName } from '../people/your-name.tsx';
import { Choice, type Faults, Field } from '../shop/form.tsx';
import { ArcPicks } from './arc-picks.tsx';
import { FaultLine, formTree, PassFail, SizeField, useFaults } from './fields.tsx';
import { decide, keepArcs, keepDestructive, keepVisual } from './job-api.ts';
import { type Done, reasonText, sizeText } from './parts.tsx';

interface CouponTestsProps {
  setUp: SetUpView;
  coupon: CouponView;
  arcs: readonly ArcSummary[];
  done: Done;
}

/** The two tests of a coupon, what they come to so far, and the word that keeps it. */
export function CouponTests({ setUp, coupon, arcs, done }: CouponTestsProps) {
  const own = arcs.filter(({ weld }) => weld?.on === 'coupon' && weld.coupon === coupon.id);
  const weak = own.filter(({ id, verdict }) => coupon.arcs.includes(id) && bad(verdict)).length;
  return (
    <>
      <YourName />
      <Visual setUp={setUp} coupon={coupon} done={done} />
      <Destructive setUp={setUp} coupon={coupon} done={done} />
      <Arcs key={own.length} coupon={coupon} own={own} done={done} />
      <section class="rows outcome-now" role="status">
        <h2>{words.jobs.outcomes[coupon.outcome]}</h2>
        <ul>
          {coupon.reasons.map((reason) => (
            <li key={`${reason.what} ${reason.why}`}>{reasonText(reason)}</li>
          ))}
        </ul>
        {weak > 0 && <p class="warning">{words.jobs.weak(weak)}</p>}
        <button
          type="button"
          class="wide main big"
          disabled={coupon.outcome === 'unfinished'}
          onClick={() => done(decide(coupon.id))}
        >
          {words.jobs.decide}
        </button>
      </section>
    </>
  );
}

const bad = (verdict: ArcSummary['verdict']) => isBroken(verdict);

type TestProps = Omit<CouponTestsProps, 'arcs'>;

/** A test's form: its faults by field, and what keeps it. */
function useTest<Test>(ask: (test: Test) => Promise<SetUpView>, done: Done) {
  const [faults, refuse, clear] = useFaults();
  const keep = (event: SubmitEvent) => {
    event.preventDefault();
    const asked = ask(formTree(event.currentTarget as HTMLFormElement) as unknown as Test);
    asked.then(() => {
      clear();
      done(asked);
    }, refuse);
  };
  return { own: ofTest(faults), keep };
}

function Visual({ setUp, coupon, done }: TestProps) {
  const { own, keep } = useTest<VisualTest>((test) => keepVisual(coupon.id, test), done);
  const { procedure } = setUp.sheet;
  const test = coupon.visual?.test;
  const looked = (key: 'undercut' | 'porosity' | 'size', limit: typeof procedure.leastSize) => (
    <div class="looked">
      <PassFail
        path={`${key}.pass`}
        label={words.jobs[key]}
        initial={test?.[key].pass}
        faults={own}
      />
      <SizeField
        path={`${key}.measured`}
        label={words.jobs.measured(
          limit ? sizeText(limit) : null,
          key === 'size' ? 'least' : 'most',
        )}
        initial={test?.[key].measured}
        faults={own}
      />
    </div>
  );
  return (
    <form class="rows" onSubmit={keep} noValidate>
      <h2>{words.jobs.visual}</h2>
      {looked('undercut', procedure.mostUndercut)}
      {looked('porosity', procedure.mostPore)}
      <PassFail
        path="burnThrough.pass"
        label={words.jobs.burnThrough}
        initial={test?.burnThrough.pass}
        faults={own}
      />
      {looked('size', procedure.leastSize)}
      <Field path="note" label={words.jobs.note} kind="text" value={test?.note} faults={own} />
      <FaultLine faults={own} />
      <Kept sign={coupon.visual} />
      <button type="submit" class={coupon.visual ? 'wide' : 'wide main'}>
        {words.jobs.keepVisual}
      </button>
    </form>
  );
}

function Destructive({ setUp, coupon, done }: TestProps) {
  const { own, keep } = useTest<DestructiveTest>((test) => keepDestructive(coupon.id, test), done);
  const { leastButton } = setUp.sheet.procedure;
  const test = coupon.destructive?.test;
  const left = test?.buttonLeft === undefined ? '' : test.buttonLeft ? 'yes' : 'no';
  return (
    <form class="rows" onSubmit={keep} noValidate>
      <h2>{words.jobs.destructive}</h2>
      <div class="row">
        <Choice
          path="method"
          label={words.jobs.method}
          value={test?.method ?? 'peel'}
          options={Object.entries(words.jobs.methods)}
          faults={own}
        />
        <Choice
          path="buttonLeft"
          label={words.jobs.buttonLeft}
          kind="flag"
          value={left}
          options={[
            ['', words.jobs.notAsked],
            ['yes', words.jobs.yes],
            ['no', words.jobs.no],
          ]}
          faults={own}
        />
        <SizeField
          path="button"
          label={words.jobs.measured(leastButton ? sizeText(leastButton) : null, 'least')}
          initial={test?.button}
          faults={own}
        />
      </div>
      <PassFail path="pass" label={words.jobs.result} initial={test?.pass} faults={own} />
      <Field path="note" label={words.jobs.note} kind="text" value={test?.note} faults={own} />
      <FaultLine faults={own} />
      <Kept sign={coupon.destructive} />
      <button type="submit" class={coupon.destructive ? 'wide' : 'wide main'}>
        {words.jobs.keepDestructive}
      </button>
    </form>
  );
}

/** Which arcs belong to it may be put right until it is decided. */
function Arcs(props: { coupon: CouponView; own: readonly ArcSummary[]; done: Done }) {
  const { coupon, own, done } = props;
  const others = own.map(({ id }) => id).filter((id) => !coupon.arcs.includes(id));
  const [not, setNot] = useState<readonly number[]>(others);
  const picked = own.map(({ id }) => id).filter((id) => !not.includes(id));
  return (
    <section>
      <h2>{words.jobs.arcsHere}</h2>
      <ArcPicks arcs={own} not={not} onNot={setNot} />
      <button type="button" onClick={() => done(keepArcs(coupon.id, picked))}>
        {words.jobs.choose}
      </button>
    </section>
  );
}

function Kept({ sign }: { sign: { by: string; at: string } | null }) {
  return sign && <p class="about">{words.jobs.kept(sign.by, when(sign.at))}</p>;
}

/** The server names places from the request's root, the form from the test's. */
const ofTest = (faults: Faults): Faults =>
  new Map([...faults].map(([path, says]) => [path.replace(/^test\./, ''), says]));
