import { styleText } from 'node:util';
import type { Arc, Finding, Judgement, Swell, Verdict } from '../../shared/protocol/judgement.ts';
import { headline } from '../../shared/rules/headline.ts';
import { rank } from '../../shared/rules/verdict.ts';
import { services } from '../../shared/words/en/services.ts';

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
const styles: Record<Verdict, Style> = {
  adequate: 'blue',
  marginal: 'yellow',
  unproven: 'dim',
  underpowered: ['bold', 'red'],
  unsuited: ['bold', 'inverse', 'red'],
};
/** Arcs listed one a line; a day's record has thousands, and `--json` has them all. */
const mostArcLines = 40;

/** The judgement as text: verdict, why with limit and source, figures, cautions. */
export function report(judgement: Judgement, colour: boolean): string {
  const paint: Paint = colour
    ? (style, text) => styleText(style, text, { validateStream: false })
    : (_, text) => text;
  const { findings } = judgement;
  const worstFirst = findings.toSorted((a, b) => rank(b.verdict) - rank(a.verdict));
  const asked = worstFirst.filter(isAsked);
  const sections: [string, string[]][] = [
    ['Why', asked.filter((each) => each.required).flatMap((each) => why(each, paint))],
    ['Advice', asked.filter((each) => !each.required).flatMap((each) => why(each, paint))],
    [
      'Not asked',
      findings.filter((each) => !isAsked(each)).map(({ rule, says }) => `  ${rule}: ${says}`),
    ],
    ['Figures', figures(judgement)],
    ['Cautions', judgement.cautions.map((caution) => `  - ${caution}`)],
  ];
  return [
    mark(judgement.verdict, headline(judgement.verdict, findings, judgement.place), paint),
    ...sections
      .filter(([, lines]) => lines.length > 0)
      .flatMap(([title, lines]) => ['', paint('bold', title), ...lines]),
    '',
  ].join('\n');
}

/** A rule that had no question, or advice that had no answer, stands apart. */
const isAsked = (finding: Finding): boolean => finding.required || finding.verdict !== 'unproven';

const mark = (verdict: Verdict, text: string, paint: Paint): string =>
  `${paint(styles[verdict], shapes[verdict])} ${paint(styles[verdict], text)}`;

function why(finding: Finding, paint: Paint): string[] {
  const basis =
    finding.limit === null
      ? finding.source
      : `limit ${limitText(finding.limit, finding.unit)}, ${finding.source}`;
  return [
    `  ${mark(finding.verdict, `${finding.rule}: ${finding.verdict}`, paint)}`,
    `    ${finding.says}`,
    ...(finding.electrician ? [`    Electrician: ${finding.electrician}`] : []),
    paint('dim', `    ${basis}`),
  ];
}

function figures(judgement: Judgement): string[] {
  const { recording, nominal, duty, supply, machine, whole } = judgement;
  const nominalText =
    nominal.volts === null ? 'no nominal voltage fits' : `nominal ${number(nominal.volts)} V`;
  const hertz = judgement.frequencyHz === null ? '' : `, ${judgement.frequencyHz.toFixed(2)} Hz`;
  return [
    `  ${recording.format}, ${recording.pairs} ${recording.pairs === 1 ? 'pair' : 'pairs'} at ` +
      `${number(recording.rateHz)}/s, ${recording.durationS.toFixed(2)} s` +
      `${recording.startedAt === null ? '' : `, from ${recording.startedAt}`}`,
    `  ${nominalText}${hertz}`,
    ...serviceLine(judgement),
    ...whole.map(
      (each, index) =>
        `  whole record, pair ${index + 1}: ${each.volts.toFixed(2)} V, ` +
        `${each.amps.toFixed(2)} A, ` +
        `${each.watts.toFixed(1)} W, power factor ${orDash(each.powerFactor, 3)}`,
    ),
    ...supply.map((each, index) =>
      each === null
        ? `  supply, pair ${index + 1}: not proven`
        : `  supply, pair ${index + 1}: ${each.openVolts.toFixed(1)} V behind ` +
          `${each.ohmsR.toFixed(3)} + j${each.ohmsX.toFixed(3)} Ω, R between ` +
          `${each.ohmsR95[0].toFixed(3)} and ${each.ohmsR95[1].toFixed(3)} Ω, ` +
          `${each.steps} ${each.steps === 1 ? 'step' : 'steps'}`,
    ),
    `  machine: ${machine.behaviour.replace('-', ' ')}; duty over ten minutes: ` +
      (duty.highestFraction === null
        ? 'not known'
        : `${(duty.highestFraction * 100).toFixed(0)} %, ` +
          `${orDash(duty.measuredI1effAmps, 1)} A effective`),
    ...quality(judgement),
    '',
    ...arcTable(judgement.arcs),
    ...swellLines(judgement.swells),
    ...judgement.sags
      .slice(0, mostArcLines)
      .map(
        (sag) =>
          `  sag at ${sag.startS.toFixed(2)} s: ${sag.residualVolts.toFixed(1)} V, ` +
          `${sag.depthPercent.toFixed(1)} % deep, ${sag.durationS.toFixed(3)} s, pair ` +
          `${sag.between?.join('–') ?? sag.channel}` +
          (sag.category === null ? '' : `, ${sag.category}`),
      ),
  ];
}

const swellLines = (swells: readonly Swell[]): string[] =>
  swells
    .slice(0, mostArcLines)
    .map(
      (swell) =>
        `  swell at ${swell.startS.toFixed(2)} s: ${swell.highestVolts.toFixed(1)} V, ` +
        `${swell.percentOver.toFixed(1)} % over, ${swell.durationS.toFixed(3)} s, pair ` +
        `${swell.channel}${swell.category === null ? '' : `, ${swell.category}`}`,
    );

/** Flicker, unbalance and frequency, where the record holds whole periods of the clock. */
function quality({ flicker, unbalance, frequency10s }: Judgement): string[] {
  const long = (plt: number | null) =>
    plt === null ? '' : `, long-term severity (Plt) up to ${plt.toFixed(2)}`;
  return [
    ...(flicker ?? []).flatMap((each, index) =>
      each === null
        ? []
        : [
            `  flicker, pair ${index + 1}: severity (Pst) up to ${each.pst.toFixed(2)}` +
              `${long(each.plt)}, of ${each.periods} × 10 min`,
          ],
    ),
    ...(unbalance
      ? [
          `  unbalance over 10 min: negative sequence up to ${unbalance.u2Percent.toFixed(2)} %, ` +
            `zero sequence up to ${unbalance.u0Percent.toFixed(2)} %`,
        ]
      : []),
    ...(frequency10s
      ? [
          `  frequency over 10 s: ${frequency10s.lowestHertz.toFixed(3)} to ` +
            `${frequency10s.highestHertz.toFixed(3)} Hz`,
        ]
      : []),
  ];
}

function arcTable(arcs: readonly Arc[]): string[] {
  if (arcs.length === 0) return ['  no arcs'];
  const head = ['arc', 'at s', 'long s', 'pair', 'idle V', 'mean V', 'least V', 'A', 'W', 'PF'];
  const rows = arcs
    .slice(0, mostArcLines)
    .flatMap((arc, index) =>
      [...arc.channels, ...(arc.between ?? [])].map((channel, pair) => [
        pair === 0 ? String(index + 1) : '',
        pair === 0 ? arc.startS.toFixed(2) : '',
        pair === 0 ? arc.durationS.toFixed(2) : '',
        nameOf(pair, arc.channels.length),
        orDash(channel.idleVolts, 1),
        channel.meanVolts.toFixed(1),
        channel.minVolts200ms.toFixed(1),
        channel.meanAmps.toFixed(2),
        channel.meanWatts.toFixed(0),
        orDash(channel.powerFactor, 2),
        pair === 0 ? `${shapes[arc.verdict]} ${arc.verdict}` : '',
      ]),
    );
  const widths = head.map((title, column) =>
    Math.max(title.length, ...rows.map((row) => row[column]!.length)),
  );
  const line = (cells: readonly string[]) =>
    `  ${cells.map((cell, column) => cell.padStart(widths[column] ?? 0)).join('  ')}`.trimEnd();
  const left = arcs.length - mostArcLines;
  return [
    line(head),
    ...rows.map(line),
    ...(left > 0 ? [`  and ${left} more arcs: see --json`] : []),
    '',
  ];
}

/** Of an entry: a pair's number, or those of the two that it lies between. */
function nameOf(entry: number, pairs: number): string {
  if (entry < pairs) return String(entry + 1);
  const one = entry - pairs;
  return `${one + 1}–${((one + 1) % pairs) + 1}`;
}

function serviceLine({ service }: Judgement): string[] {
  if (service === null || service.arrangement === 'single') return [];
  const pairs = service.voltsBetween.length === 1 ? 2 : 3;
  const between = service.voltsBetween.map(
    (volts, at) => `${volts.toFixed(1)} V between ${nameOf(pairs + at, pairs)}`,
  );
  return [`  service: ${services[service.arrangement]}, ${between.join(', ')}`];
}

const orDash = (value: number | null, digits: number): string =>
  value === null ? '–' : value.toFixed(digits);

/** A part of one reads as a percentage. */
const limitText = (limit: number, unit: string): string =>
  unit === '1' ? `${number(limit * 100)} %` : `${number(limit)} ${unit}`;

/** As few digits as tell it: 216, 0.05, 10240. */
const number = (value: number): string => String(Number(value.toPrecision(6)));
