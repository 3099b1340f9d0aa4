import type { Check } from '../../../../shared/protocol/http-check.ts';
import type { Finding, Place } from '../../../../shared/protocol/judgement.ts';
import type { CheckResult } from '../../../../shared/protocol/outlet-check.ts';
import { verdicts } from '../../../../shared/protocol/verdicts.ts';
import { FactTable } from '../parts/fact-table.tsx';
import { FindingItem } from '../parts/finding-item.tsx';
import { figure, when } from '../parts/format.ts';
import { Ladder } from '../parts/ladder.tsx';
import { said, saidInTurn } from '../parts/said.ts';
import { VerdictMark, verdictWord } from '../parts/verdict-mark.tsx';
import { words } from '../parts/words.ts';
import { RemedyList } from '../remedy/remedy-list.tsx';
import { checkLadder } from './check-ladder.ts';
import { cordWords } from './check-words.ts';
import { SaveOffer } from './save-offer.tsx';

/** What the verdict hangs on first. */
const sorted = (findings: readonly Finding[]) =>
  [...findings].sort(
    (a, b) =>
      Number(b.required) - Number(a.required) ||
      verdicts.indexOf(b.verdict) - verdicts.indexOf(a.verdict),
  );

interface ResultProps {
  check: Check;
  result: CheckResult;
  onSaved(check: Check): void;
}

/** A judged check: the verdict, what it stands on, what would make it right; it can be printed. */
export function CheckResultView({ check, result, onSaved }: ResultProps) {
  const { verdict, remedies, cautions } = result;
  const findings = sorted(result.findings);
  const deciding = findings.find((finding) => finding.verdict === verdict) ?? findings[0];
  const facts = checkLadder(check);
  const text = words.check.result;
  const names = [result.circuit ?? text.noCircuit, result.machine ?? text.noMachine];
  const made = result.recording ? [words.check.recording.made(result.recording)] : [];
  const where = [...names, cordWords(result.cords), ...made].join(' · ');
  return (
    <main class="narrow check">
      <p class="back">
        <a href="#/checks">← {text.back}</a>
      </p>
      {check.staleness?.stale && (
        <p class="warning">
          <strong>{check.unsaved ? words.check.storedOther : words.check.stale}</strong>{' '}
          {saidInTurn(check.staleness.why, check.staleness.sayings)}
        </p>
      )}
      <section class={`verdict ${verdict}`}>
        <VerdictMark verdict={verdict} size={56} />
        <div>
          <p class="what">{text.title(check.id)}</p>
          <h1 tabIndex={-1}>{verdictWord(verdict, placeOf(result))}</h1>
          <p class="sentence">{deciding && said(deciding)}</p>
          <p class="where">{where}</p>
          <p class="where">{[when(result.date), result.person, result.place].join(' · ')}</p>
        </div>
        {facts && <Ladder facts={facts} />}
      </section>
      <ToProve toProve={result.toProve ?? []} />
      {remedies.length > 0 && (
        <section>
          <h2>{text.right}</h2>
          <RemedyList remedies={remedies} />
        </section>
      )}
      <p class="actions no-print">
        <button type="button" class="main" onClick={() => print()}>
          {text.print}
        </button>
        {check.sensor !== null && (
          <a class="button" href={`#/right/${encodeURIComponent(check.sensor)}`}>
            {text.tryCords}
          </a>
        )}
        <a class="button" href={`#/checks/${encodeURIComponent(check.sensor ?? '')}`}>
          {text.again}
        </a>
      </p>
      <SaveOffer of={check} onSaved={onSaved} />
      <Facts result={result} />
      <Why findings={findings} />
      <section>
        <h2>{text.cautions}</h2>
        <ul>
          {cautions.map((says) => (
            <li key={says}>{said({ says })}</li>
          ))}
        </ul>
      </section>
    </main>
  );
}

/** Where its voltages are told of: behind the outlet nothing is known without a circuit. */
function placeOf({ sensorAt, circuit }: CheckResult): Place {
  if (sensorAt !== 'outlet') return sensorAt;
  return circuit === null ? 'outlet' : 'machine';
}

/** Of an unproven result; empty of others, and of those that an older server kept. */
function ToProve({ toProve }: { toProve: readonly string[] }) {
  if (toProve.length === 0) return null;
  return (
    <section>
      <h2>{words.check.result.toProve}</h2>
      <ul>
        {toProve.map((says) => (
          <li key={says}>{said({ says })}</li>
        ))}
      </ul>
    </section>
  );
}

function Why({ findings }: { findings: readonly Finding[] }) {
  return (
    <section>
      <h2>{words.check.result.why}</h2>
      <ul class="findings">
        {findings.map((finding) => (
          <FindingItem key={`${finding.rule} ${finding.says}`} finding={finding} />
        ))}
      </ul>
    </section>
  );
}

/** Which bead had the cord; nothing where there was none, nor of results of an older server. */
const cordOf = (had: boolean | null | undefined, text: typeof words.check.result): string =>
  had == null ? '' : `, ${had ? text.withCord : text.withoutCord}`;

function Facts({ result }: { result: CheckResult }) {
  const { noLoadVolts, idleVolts, beads, supply, atFullLoad } = result;
  const text = words.check.result;
  const [low, high] = atFullLoad?.volts95 ?? [];
  const full = atFullLoad
    ? text.between(`${figure(atFullLoad.volts)} V`, figure(low), figure(high))
    : text.notProven;
  // A recording cannot tell an empty outlet from a machine that waits.
  const notTaken = result.recording ? text.notInRecording : text.notTaken;
  const rows: [string, string][] = [
    [text.sensor, words.check.at[result.sensorAt]],
    [text.empty, noLoadVolts === null ? notTaken : `${figure(noLoadVolts)} V`],
    [text.idle, idleVolts === null ? text.notTaken : `${figure(idleVolts)} V`],
    ...beads.map((bead, index): [string, string] => [
      text.bead(index + 1),
      `${figure(bead.endS - bead.startS)} s, ${figure(bead.amps)} A` +
        cordOf(bead.withCord, text) +
        (bead.shareOfFull === null ? '' : `, ${text.ofFull(figure(100 * bead.shareOfFull, 0))}`) +
        `, ${text.lowest(`${figure(bead.leastVolts)} V`, words.check.at[result.sensorAt])}`,
    ]),
    [
      text.supply,
      supply === null
        ? text.notProven
        : text.behind(
            `${figure(supply.openVolts)} V`,
            `${figure(supply.ohmsR, 3)} + j${figure(supply.ohmsX, 3)} Ω`,
          ),
    ],
    [text.full, full],
  ];
  return (
    <section>
      <h2>{text.measured}</h2>
      <FactTable rows={rows} />
    </section>
  );
}
