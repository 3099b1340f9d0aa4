import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Judgement, Verdict } from '../../shared/protocol/judgement.ts';
import { type Case, isAlarm, nameOf } from './cases.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const block = /(<!-- confusion: [^>]*-->\n)[\s\S]*?(<!-- \/confusion -->)/;
const verdicts: readonly Verdict[] = [
  'adequate',
  'marginal',
  'unproven',
  'underpowered',
  'unsuited',
];

interface Row {
  of: Case;
  healthy: boolean;
  runs: number;
  right: number;
  verdicts: Map<string, number>;
  rules: Map<string, number>;
}

const count = (into: Map<string, number>, what: string): void => {
  into.set(what, (into.get(what) ?? 0) + 1);
};

/** What was found over all seeds, a row a scenario. */
export class Table {
  readonly #rows: Row[] = [];

  row(of: Case, healthy: boolean): Row {
    const row = { of, healthy, runs: 0, right: 0, verdicts: new Map(), rules: new Map() };
    this.#rows.push(row);
    return row;
  }

  add(row: Row, { verdict, findings }: Judgement, right: boolean): void {
    row.runs += 1;
    if (right) row.right += 1;
    count(row.verdicts, verdict);
    const spoke = findings.filter((each) => isAlarm(each.verdict)).map(({ rule }) => rule);
    for (const rule of new Set(spoke)) count(row.rules, rule);
  }

  /** Runs of the healthy shop, and how many of them alarmed. */
  alarms(): { runs: number; alarms: number } {
    const rows = this.#rows.filter(({ healthy }) => healthy);
    const sum = (pick: (row: Row) => number) => rows.reduce((total, row) => total + pick(row), 0);
    return { runs: sum(({ runs }) => runs), alarms: sum(({ runs, right }) => runs - right) };
  }

  drawn(): string {
    const faults = this.#rows.filter(({ healthy }) => !healthy).map(lineOf);
    const healthy = this.#rows.filter((row) => row.healthy).map(lineOf);
    const last = 'seeds | seconds | verdict | rules that spoke |';
    return [
      `| fault | its rule | found | ${last}`,
      '|---|---|---|---|---|---|---|',
      ...faults,
      '',
      `| healthy | silent | ${last}`,
      '|---|---|---|---|---|---|',
      ...healthy,
      '',
    ].join('\n');
  }

  /** To `tests/.out/confusion.md`; with STIFFLINE_DRAW set, into DEVELOPERS.md too. */
  write(): void {
    mkdirSync(`${root}tests/.out`, { recursive: true });
    writeFileSync(`${root}tests/.out/confusion.md`, this.drawn());
    if (!process.env.STIFFLINE_DRAW) return;
    const page = `${root}DEVELOPERS.md`;
    const fresh = (_all: string, opens: string, closes: string) =>
      `${opens}${this.drawn()}${closes}`;
    writeFileSync(page, readFileSync(page, 'utf8').replace(block, fresh));
  }
}

/** Shares are rounded down: what is missed once in a thousand is not found in all. */
const share = (part: number, of: number): string => `${Math.floor((1000 * part) / of) / 10} %`;

function lineOf({ of, healthy, runs, right, verdicts: gave, rules }: Row): string {
  const gives = verdicts
    .filter((verdict) => gave.has(verdict))
    .map((verdict) => `${verdict} ${share(gave.get(verdict)!, runs)}`);
  const spoke = [...rules]
    .sort(([, a], [, b]) => b - a)
    .map(([rule, times]) => (times === runs ? rule : `${rule} ${share(times, runs)}`));
  const cells = [
    ...(healthy ? [nameOf(of)] : [nameOf(of), of.rule]),
    ...[share(right, runs), runs, of.seconds],
    ...[gives.join(', '), spoke.join(', ') || '–'],
  ];
  return `| ${cells.join(' | ')} |`;
}
