import type { FeederLoad } from '../../../../shared/protocol/feeder.ts';
import { FactTable } from '../parts/fact-table.tsx';
import { figure } from '../parts/format.ts';
import { Ladder } from '../parts/ladder.tsx';
import { said } from '../parts/said.ts';
import { VerdictMark } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';

/** Each feeder against the machines that may hang on it: sentences first, then the figures. */
export function PlanFeeders({ feeders }: { feeders: readonly FeederLoad[] }) {
  if (feeders.length === 0) return null;
  return (
    <section>
      <h3>{words.plan.feeders}</h3>
      {feeders.map((load) => (
        <Load key={load.feeder} load={load} />
      ))}
      <p>{words.plan.neither}</p>
    </section>
  );
}

/** One feeder and what the rules find of it. */
export function Load({ load, as: Heading = 'h4' }: { load: FeederLoad; as?: 'h3' | 'h4' }) {
  const { feeder, verdict, machines, findings, atOnce, groupAmps, fullAmps, carriesAmps } = load;
  const { volts, volts95, needsVolts } = atOnce;
  const rows: [string, string][] = [
    [words.plan.groupAmps, `${figure(groupAmps, 0)} A`],
    [words.plan.fullAmps, `${figure(fullAmps, 0)} A`],
    ...(carriesAmps === null
      ? []
      : [[words.plan.carries, `${figure(carriesAmps, 0)} A`] as [string, string]]),
    ...(volts === null ? [] : [[words.plan.farEnd, `${figure(volts)} V`] as [string, string]]),
  ];
  return (
    <article class="rows">
      <Heading class="verdict-word">
        <VerdictMark verdict={verdict} size={20} /> {feeder}
      </Heading>
      <p>{machines.length === 0 ? words.plan.noMachine : words.plan.group(machines.join(', '))}</p>
      <ul>
        {findings.map((finding) => (
          <li key={finding.says}>{said(finding)}</li>
        ))}
      </ul>
      <div class="with-ladder">
        <FactTable rows={rows} />
        {volts !== null && volts95 && <VoltsLadder {...{ volts, volts95, needsVolts }} />}
      </div>
    </article>
  );
}

interface VoltsProps {
  volts: number;
  volts95: readonly [number, number];
  needsVolts: number;
}

/** The ladder of a foretold voltage alone; the least that is needed is nine tenths of the rated. */
export function VoltsLadder({ volts, volts95: [low, high], needsVolts }: VoltsProps) {
  const rated = needsVolts / 0.9;
  const foretold = { volts, low, high };
  return (
    <Ladder facts={{ rated, band: [needsVolts, 1.1 * rated], open: null, arc: null, foretold }} />
  );
}
