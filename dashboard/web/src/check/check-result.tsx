import type { Check } from '../../../../shared/protocol/http-check.ts';
import type { Finding } from '../../../../shared/protocol/judgement.ts';
import type { CheckResult } from '../../../../shared/protocol/outlet-check.ts';
import { clock, day, figure } from '../parts/format.ts';
import { Ladder } from '../parts/ladder.tsx';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { RemedyList } from '../remedy/remedy-list.tsx';
import { checkLadder } from './check-ladder.ts';
import { cordWords } from './check-words.ts';

const order = ['underpowered', 'marginal', 'unproven', 'adequate'];

/** What the verdict hangs on first. */
const sorted = (findings: readonly Finding[]) =>
  [...findings].sort(
    (a, b) =>
      Number(b.required) - Number(a.required) ||
      order.indexOf(a.verdict) - order.indexOf(b.verdict),
  );

/** A judged check: the verdict, what it stands on, what would make it right; it can be printed. */
export function CheckResultView({ check, result }: { check: Check; result: CheckResult }) {
  const { verdict, remedies, cautions } = result;
  const findings = sorted(result.findings);
  const deciding = findings.find((finding) => finding.verdict === verdict) ?? findings[0];
  const facts = checkLadder(check);
  const names = [result.circuit ?? 'a circuit not described', result.machine ?? 'no machine named'];
  const where = [...names, cordWords(result.cords)].join(' · ');
  return (
    <main class="narrow check">
      <p class="back">
        <a href="#/checks">← Outlet checks</a>
      </p>
      {check.staleness?.stale && (
        <p class="warning">
          <strong>Holds no longer.</strong> {check.staleness.why.join(' ')}
        </p>
      )}
      <section class={`verdict ${verdict}`}>
        <VerdictMark verdict={verdict} size={56} />
        <div>
          <h1 tabIndex={-1}>{verdictWord(verdict)}</h1>
          <p class="sentence">{deciding?.says}</p>
          <p class="where">{where}</p>
        </div>
        {facts && <Ladder facts={facts} />}
      </section>
      {remedies.length > 0 && (
        <section>
          <h2>What would make it right</h2>
          <RemedyList remedies={remedies} />
        </section>
      )}
      <p class="actions no-print">
        <button type="button" class="main" onClick={() => print()}>
          Print
        </button>
        <a class="button" href={`#/right/${encodeURIComponent(check.sensor)}`}>
          Try other cords
        </a>
        <a class="button" href={`#/checks/${encodeURIComponent(check.sensor)}`}>
          Check again
        </a>
      </p>
      <Facts result={result} />
      <Why findings={findings} />
      <section>
        <h2>Cautions</h2>
        <ul>
          {cautions.map((words) => (
            <li key={words}>{words}</li>
          ))}
        </ul>
      </section>
    </main>
  );
}

function Why({ findings }: { findings: readonly Finding[] }) {
  return (
    <section>
      <h2>Why</h2>
      <ul class="findings">
        {findings.map((finding) => (
          <li key={`${finding.rule} ${finding.says}`}>
            <VerdictMark verdict={finding.verdict} size={24} />
            <div>
              <p>
                <strong class={finding.verdict}>{verdictWord(finding.verdict)}</strong>{' '}
                {finding.says}
              </p>
              {finding.electrician && <p class="electrician">{finding.electrician}</p>}
              <p class="source">
                {finding.rule}. {finding.source}
                {finding.required ? '' : '. Advice'}
              </p>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Facts({ result }: { result: CheckResult }) {
  const { noLoadVolts, idleVolts, beads, supply, atFullLoad } = result;
  const [low, high] = atFullLoad?.volts95 ?? [];
  const full = atFullLoad
    ? `${figure(atFullLoad.volts)} V (${figure(low)} to ${figure(high)})`
    : 'not proven';
  const rows: [string, string][] = [
    ['Checked', `${day(result.date)} ${clock(result.date)}, ${result.person}, ${result.place}`],
    ['Sensor', `at the ${result.sensorAt}`],
    ['Empty outlet', noLoadVolts === null ? 'not taken' : `${figure(noLoadVolts)} V`],
    ['Machine on, no arc', idleVolts === null ? 'not taken' : `${figure(idleVolts)} V`],
    ...beads.map((bead, index): [string, string] => [
      `Bead ${index + 1}`,
      `${figure(bead.endS - bead.startS)} s, ${figure(bead.amps)} A` +
        (bead.shareOfFull === null ? '' : `, ${figure(100 * bead.shareOfFull, 0)} % of full`) +
        `, lowest ${figure(bead.leastVolts)} V`,
    ]),
    [
      'Supply',
      supply === null
        ? 'not proven'
        : `${figure(supply.openVolts)} V behind ` +
          `${figure(supply.ohmsR, 3)} + j${figure(supply.ohmsX, 3)} Ω`,
    ],
    ['At the plate’s full current', full],
  ];
  return (
    <section>
      <h2>What was measured</h2>
      <table class="facts">
        <tbody>
          {rows.map(([name, words]) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{words}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
