import type { planning as english } from '../en/planning.ts';
import { figuresWith } from '../figures.ts';
import { parts } from './parts.ts';
import { withGun } from './with-gun.ts';

const { amps, given } = figuresWith(',');

const upstreamOf = (of: Parameters<typeof english.taken>[0]) =>
  'shortCircuit' in of
    ? `${given(of.shortCircuit)} A Kurzschlussstrom am Verteiler`
    : `${given(of.ohmsR)} + j${given(of.ohmsX)} Ω davor (die Hälfte von IEC TR 60725)`;

export const planning: typeof english = {
  nothingKnown: () =>
    'Von diesem Stromkreis ist nur der Name bekannt: Querschnitt und Länge der Zuleitung ' +
    'eintragen oder messen.',
  breakerSaysNothing: () =>
    'Der Leitungsschutzschalter allein sagt nichts über die Spannung unter Last.',
  workedOut: () => 'Aus der beschriebenen Leitung berechnet: messen, ehe man sich darauf verlässt.',
  taken: (of) =>
    `Angenommen, nicht gemessen: ${upstreamOf(of)}, um das Ganze unsicher; ` +
    `${given(of.supply)} V ohne Last, ± ${given(of.openPercent)} %; Leitung bei ` +
    `${of.celsius[0]} bis ${of.celsius[1]} °C. Übliche Praxis.`,

  notMadeFor: ({ process, gun }) =>
    `${withGun(gun)}Für ${parts.processes[process]} ist sie nicht gemacht.`,
  classAsked: ({ least, plate, gun }) =>
    `${withGun(gun)}Verlangt ist eine Maschine für mindestens ${given(least)} V; diese läuft mit ` +
    `${given(plate)} V.`,
  noWireSizes: ({ gun }) => `${withGun(gun)}Das Leistungsschild nennt keine Drahtdurchmesser.`,
  noOutput: () => 'Das Leistungsschild nennt keinen Schweißstrom.',
  outputShort: ({ most, least, on }) =>
    `Sie gibt${on === null ? '' : ` an ${given(on)} V`} höchstens ${amps(most)}; verlangt sind ` +
    `${amps(least)}.`,
  outputShortThere: ({ most, least, circuit }) =>
    `An ${circuit} sänke ihre Leistung mit der Spannung auf ${amps(most)}; verlangt sind ` +
    `${amps(least)}.`,
  bestOn: ({ circuit }) => `Am besten an ${circuit}:`,
  noSuchSupply: () =>
    'Das Leistungsschild genügt nur an einer Netzspannung, die hier kein Stromkreis hat.',

  noneSurely: ({ perhaps }) =>
    `Kein Stromkreis versorgt sicher eine Maschine dafür; ${perhaps.join(', ')} kann genügen: ` +
    'zuerst messen.',
  noneMeets: () =>
    'Keine Maschine der Liste genügt dafür an einem Stromkreis, der sie auch versorgt.',
  equalSet: () => 'Ebenso wenige Maschinen, derselbe Preis.',
  cheapestSet: ({ less, more }) =>
    `Am wenigsten Geld: ${given(less)} weniger, dafür ${more} mehr zu kaufen.`,
  asSmallSet: ({ dearer }) => `Ebenso wenige Maschinen, ${given(dearer)} teurer.`,
  coversToo: ({ machine, by }) =>
    `Alles, was ${machine} hier abdeckt, ${by.length === 1 ? 'deckt' : 'decken'} auch ` +
    `${by.join(' und ')} ab.`,
};
