import type { current as english } from '../en/current.ts';
import { figuresWith, type Length } from '../figures.ts';

const { amps, fixed, gauge, given, length, percent } = figuresWith(',');

const wires = (loaded: 2 | 3) => (loaded === 3 ? 'drei belastete Leiter' : 'zwei belastete Leiter');
const within = (seconds: number) =>
  seconds < 1
    ? 'sofort'
    : seconds < 3600
      ? `spätestens nach ${seconds / 60} min`
      : `spätestens nach ${seconds / 3600} h`;

export const current: typeof english = {
  ampacityBy: ({ column, method, insulation, loaded, ambient, grouped }) =>
    (column === null
      ? `Verlegeart ${method}, ${insulation === 'XLPE' ? 'VPE' : insulation}, ${wires(loaded)}`
      : `Spalte ${column} °C`) +
    (ambient === null
      ? ''
      : `, × ${fixed(ambient.factor, 2)} für ${given(ambient.celsius)} °C Umgebung`) +
    (grouped === null
      ? ''
      : `, × ${fixed(grouped.factor, 2)} für ${grouped.circuits} Stromkreise beisammen`) +
    (column === 60 ? '; Klemmen und Isolierung für 75 °C mögen mehr erlauben.' : '.'),

  breakerStands: ({ breaker, least }) =>
    `Der Leitungsschutzschalter hat ${amps(breaker)}; die Maschine zieht ${amps(least)} effektiv.`,
  breakerHolds: ({ breaker, amps: at, seconds }) =>
    `Bei ${amps(at)} ` +
    (seconds === null
      ? `ist ein Leitungsschutzschalter von ${amps(breaker)} in seinem Bemessungsstrom.`
      : `muss ein Leitungsschutzschalter von ${amps(breaker)} aus dem kalten Zustand ` +
        `${seconds / 3600} h halten.`),
  breakerMay: ({ breaker, amps: at, part }) =>
    `Bei ${amps(at)}, ${percent(part, 0)} seines Bemessungsstroms, kann ein ` +
    `Leitungsschutzschalter von ${amps(breaker)} jederzeit auslösen, oder nie: keine Norm sagt, ` +
    'wann.',
  breakerWill: ({ breaker, amps: at, part, seconds }) =>
    `Bei ${amps(at)}, ${percent(part, 0)} seines Bemessungsstroms, löst ein ` +
    `Leitungsschutzschalter von ${amps(breaker)} aus, wenn das andauert, ${within(seconds)}; ` +
    'er kann es jederzeit vorher.',
  breakersDiffer: () =>
    'Bei gleicher Last kann ein guter Leitungsschutzschalter sofort auslösen, ein anderer ' +
    'später, ein dritter nie; ein warmer löst früher aus.',
  breakerNoProof: () =>
    'Ein Leitungsschutzschalter, der hält, beweist nicht, dass Leitung, Verlängerung und ' +
    'Steckdose nicht überlastet sind.',
  breakerPeak: (of) =>
    of.peak === null
      ? `Angenommen ist ein Leitungsschutzschalter nach ${of.standard}, die für das sofortige ` +
        'Auslösen keine Stromspitze festlegt.'
      : `Angenommen ist ein Leitungsschutzschalter nach ${of.standard}` +
        (of.type === null ? ', Typ nicht bekannt' : `, Typ ${of.type}`) +
        `: eine Stromspitze beim Einschalten über ${amps(of.peak)} kann ihn sofort auslösen.`,
  burstDrew: ({ amps: at, seconds: long }) =>
    `Diese Schweißung zog ${fixed(long, long < 10 ? 1 : 0)} s lang ${amps(at)}.`,
  supplyLost: ({ amps: at, seconds: after, count }) =>
    `Netz verloren bei ${amps(at)} nach ${fixed(after, after < 10 ? 1 : 0)} s: die Spannung ` +
    'verschwand, während die Maschine Strom zog' +
    `${count > 1 ? `, das letzte von ${count} Malen` : ''}.`,
  lostHow: () =>
    'Leitungsschutzschalter, Sicherung, Stecker oder Netzbetreiber: der Sensor kann es nicht ' +
    'unterscheiden. Das klären, ehe wieder eingeschaltet wird; einen warmen ' +
    'Leitungsschutzschalter vorher abkühlen lassen.',
  smallConductor: (of) =>
    `Ein Leitungsschutzschalter von ${amps(of.breaker)} an ${gauge(of.wire)} ist nur für den ` +
    'Stromkreis einer Lichtbogen-Schweißmaschine gedacht; für alles andere sind ' +
    `${amps(of.most)} das Höchste.${of.alone ? '' : ' Dort nichts anderes einstecken.'}`,
  receptacleStands: ({ receptacle, least }) =>
    `Die Steckdose hat ${amps(receptacle)}; die Maschine zieht ${amps(least)} effektiv.`,
  receptacleOver: ({ receptacle, breaker }) =>
    `Eine Steckdose von ${amps(receptacle)} hinter einem Leitungsschutzschalter von ` +
    `${amps(breaker)} lädt zu Lasten ein, die der Stromkreis nicht trägt.`,
  receptacleUnder: (of) =>
    `Eine Steckdose von ${amps(of.receptacle)} hinter einem Leitungsschutzschalter von ` +
    `${amps(of.breaker)} ist nur für eine Lichtbogen-Schweißmaschine gedacht.` +
    (of.alone ? '' : ' Dort nichts anderes einstecken.'),
  socketUnder: ({ receptacle, breaker }) =>
    `Der Leitungsschutzschalter von ${amps(breaker)} schützt die Steckdose von ` +
    `${amps(receptacle)} dahinter nicht.`,
  feederDraws: ({ count, amps: drawn }) =>
    `Mit ${count === 1 ? 'einer Maschine' : `${count} Maschinen`} zugleich trägt sie ` +
    `${amps(drawn)}.`,

  cordCarries: (of) =>
    `Die Verlängerung von ${length(of.cord)} mit ${gauge(of.cord)} darf ${amps(of.carries)} ` +
    `tragen (${wires(of.loaded)}); die Maschine zieht ${amps(of.least)} effektiv und bei vollem ` +
    `Strom ${amps(of.full)}. Ganz abrollen.`,
  cordFull: ({ enough }) =>
    'Die Wärme folgt dem Effektivstrom. Ob die Regel der Einschaltdauer für eine Verlängerung ' +
    'gilt, ist nicht geklärt: nach vollem Strom ' +
    (enough ? 'ist auch diese stark genug.' : 'ist diese zu schwach.'),
  cordLengths: ({ share, longest, usual }) =>
    (share === null
      ? ''
      : `Die Verlängerung nimmt ${percent(share, 0)} des ganzen Spannungsfalls. `) +
    (longest.length === 0
      ? 'Keine Verlängerung reichte hier.'
      : `Die längsten, die reichen: ${longest
          .map((of) => `${gauge(of)} ${length(of)}${shorter(of.usual, usual)}`)
          .join('; ')}.`),
};

function shorter(of: Length | null, usual: number): string {
  if (of === null) return ` (keine hält ${percent(usual, 0)} ein)`;
  return ` (${length(of)} für ${percent(usual, 0)})`;
}
