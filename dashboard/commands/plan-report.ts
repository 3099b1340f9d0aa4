import { styleText } from 'node:util';
import type { FeederLoad } from '../../shared/protocol/feeder.ts';
import type { Verdict } from '../../shared/protocol/judgement.ts';
import type { MachineSet, Plan, PlanRow } from '../../shared/protocol/planning.ts';
import { causeOf } from '../../shared/rules/planned-row.ts';

type Style = Parameters<typeof styleText>[0];
type Paint = (style: Style, text: string) => string;

/** Shapes as on the page, so that nothing hangs on colour alone. */
const shapes: Record<Verdict, string> = {
  adequate: '●',
  marginal: '◐',
  unproven: '◌',
  underpowered: '▼',
  unsuited: '☒',
};
/** Circuits side by side in one table: eighty columns hold as many. */
const circuitsWide = 5;
/** Machines named for a need that nothing covers; `--json` has them all. */
const mostReasons = 8;

/** The plan as text: what to buy, every machine on every circuit, what stays open and why. */
export function planReport(made: Plan, colour: boolean): string {
  const paint: Paint = colour
    ? (style, text) => styleText(style, text, { validateStream: false })
    : (_, text) => text;
  const part = (title: string, lines: string[]) =>
    lines.length > 0 ? [paint('bold', title), ...lines, ''] : [];
  return [
    ...part('Smallest set', setLines(made)),
    ...part('Cheapest set', cheapestLines(made)),
    ...part(
      'Other sets',
      made.alternatives.map((set) => `  ${setText(set)}. ${set.says}`),
    ),
    ...part('What each further machine would add', made.further.map(furtherLine)),
    ...part(
      'Owned twice',
      made.duplicates.map(({ says }) => `  ${says}`),
    ),
    ...part('Not covered', uncoveredLines(made)),
    ...part('Needs', made.covers.map(coverLine)),
    ...part('Volts at the machine, at its full current', matrixLines(made)),
    ...part('Why not', whyLines(made.matrix)),
    ...part('Feeders', made.feeders.flatMap(feederLines)),
    ...part(
      'Cautions',
      made.cautions.map((caution) => `  - ${caution}`),
    ),
  ].join('\n');
}

function setLines({ smallestSet, steps, covers, uncovered }: Plan): string[] {
  if (covers.length === 0) return ['  No needs were given.'];
  const met = `${covers.length - uncovered.length} of ${covers.length} needs`;
  if (smallestSet.machines.length === 0) return [`  None: ${met} can be covered.`];
  return [
    `  ${setText(smallestSet)}: covers ${met}.`,
    ...steps.map(
      ({ machine, owned, price, adds }) =>
        `    ${machine} (${owned ? 'owned' : price}): ${adds.join(', ') || 'nothing more'}`,
    ),
  ];
}

function cheapestLines({ cheapestSet, smallestSet, covers }: Plan): string[] {
  if (covers.length === 0 || cheapestSet.machines.length === 0) return [];
  if (cheapestSet.machines.join('\n') === smallestSet.machines.join('\n'))
    return ['  The same: no other costs less.'];
  return [`  ${setText(cheapestSet)}.`];
}

const furtherLine = ({ machine, price, adds }: Plan['further'][number]) =>
  `  ${machine}, ${price}: ${adds.join(', ') || 'nothing'}`;

/** The group first, then what does not go well, then the rest: advice and all. */
function feederLines({ feeder, verdict, machines, findings }: FeederLoad): string[] {
  return [
    `  ${shapes[verdict]} ${feeder}: ${machines.join(' + ') || 'no machine suits its circuits'}`,
    ...findings.map((finding) => `    ${shapes[finding.verdict]} ${finding.says}`),
  ];
}

const setText = ({ machines, price }: MachineSet) => `${machines.join(' + ')}, ${price} to pay`;

function uncoveredLines({ uncovered }: Plan): string[] {
  return uncovered.flatMap(({ need, says, why, nearest, remedies }) => [
    `  ${need}: ${says}`,
    ...why.slice(0, mostReasons).map((each) => `    ${each.machine}: ${each.says}`),
    ...(why.length > mostReasons ? [`    and ${why.length - mostReasons} more: see --json`] : []),
    ...(nearest && remedies.length > 0
      ? [`    What would make ${nearest.machine} right on ${nearest.circuit}:`]
      : []),
    ...remedies.map((remedy) => `      - ${remedy.says}`),
  ]);
}

function coverLine({ need, machines, marginal }: Plan['covers'][number]): string {
  const maybe = marginal.length > 0 ? `; only marginally: ${marginal.join(', ')}` : '';
  return `  ${need}: ${machines.join(', ') || 'nothing'}${maybe}`;
}

/** Circuits are numbered; a table holds a few of them side by side. */
function matrixLines({ matrix }: Plan): string[] {
  const circuits = [...new Set(matrix.map(({ circuit }) => circuit))];
  const machines = [...new Set(matrix.map(({ machine }) => machine))];
  const source = new Map(matrix.map(({ circuit, supply }) => [circuit, supply]));
  const row = (machine: number, circuit: number) => matrix[machine * circuits.length + circuit]!;
  const legend = circuits.map((name, at) => `  ${at + 1}  ${name} (${source.get(name)})`);
  const blocks = Array.from({ length: Math.ceil(circuits.length / circuitsWide) }, (_, block) => {
    const start = block * circuitsWide;
    const columns = circuits.slice(start, start + circuitsWide).map((_name, at) => start + at);
    const head = ['', ...columns.map((at) => String(at + 1))];
    return [
      head,
      ...machines.map((name, at) => [name, ...columns.map((each) => cell(row(at, each)))]),
    ];
  });
  return [...legend, ...blocks.flatMap((block) => ['', ...table(block)])];
}

const cell = ({ verdict, voltsAtFullLoad }: PlanRow): string =>
  `${shapes[verdict]} ${voltsAtFullLoad === null ? '–' : `${voltsAtFullLoad.toFixed(0)} V`}`;

function table(rows: readonly (readonly string[])[]): string[] {
  const widths = rows[0]!.map((_, column) => Math.max(...rows.map((row) => row[column]!.length)));
  return rows.map((row) =>
    row
      .map((text, column) =>
        column === 0 ? text.padEnd(widths[0]!) : text.padStart(widths[column]!),
      )
      .join('  ')
      .replace(/^/, '  ')
      .trimEnd(),
  );
}

/** One sentence for each pair that does not go well. */
function whyLines(matrix: readonly PlanRow[]): string[] {
  const bad = matrix.filter(({ verdict }) => verdict !== 'adequate');
  const lines = bad.slice(0, mostWhy).map((row) => {
    return `  ${shapes[row.verdict]} ${row.machine} on ${row.circuit}: ${causeOf(row)?.says ?? ''}`;
  });
  return bad.length > mostWhy
    ? [...lines, `  and ${bad.length - mostWhy} more: see --json`]
    : lines;
}

const mostWhy = 40;
