import type { connection as english } from '../en/connection.ts';
import { figuresWith } from '../figures.ts';

const { amps, fixed, percent, seconds, volts } = figuresWith(',');

const ohms = (value: number) => `${fixed(value, 2)} Ω`;
const stop = 'Aufhören. An dieser Steckdose nicht weiterschweißen; eine Elektrofachkraft rufen.';
const spot = (watts: number) => `bis zu ${fixed(watts, 0)} W Wärme an einer Stelle`;

const whyRefused: Record<string, (figures: Record<string, number>) => string> = {
  'no-step': () => 'Kein Stromsprung war groß und ruhig genug, um das Netz daraus zu schätzen.',
  wide: ({ ohms: r = 0, halfOhms = 0 }) =>
    `Für den Netzwiderstand ergab sich ${ohms(r)} ± ${ohms(halfOhms)}: ` +
    'zu ungenau für eine Vorhersage.',
  'frequency-moves': () =>
    'Die Netzfrequenz bewegt sich mit der Last: die Netzimpedanz lässt sich nicht bestimmen.',
  'negative-resistance': ({ ohms: r = 0 }) =>
    `Für den Netzwiderstand ergab sich ${ohms(r)}: ein Spannungsregler, oder eine andere Last ` +
    'schaltet im Takt.',
  'negative-reactance': ({ ohms: x = 0 }) =>
    `Für die Netzreaktanz ergab sich ${ohms(x)}: das hat kein Stromkreis.`,
  'large-reactance': ({ ohms: x = 0 }) =>
    `Für die Netzreaktanz ergab sich ${ohms(x)}: mehr, als ein Endstromkreis hat.`,
  'near-load': ({ ohms: r = 0 }) =>
    `Für den Netzwiderstand ergab sich ${ohms(r)}: nahe am Widerstand der Last selbst.`,
  'edges-disagree': () =>
    'Am Ende der Lichtbögen zeigt sich weniger Widerstand als am Anfang: das tut keine Leitung.',
  misses: ({ misses = 0, edges = 0 }) =>
    `${misses} von ${edges} Lastsprüngen passen nicht zur Vorhersage aus den übrigen.`,
  generator: () => 'Ein Generator hat keine feste Impedanz, aus der sich etwas vorhersagen ließe.',
};

export const connection: typeof english = {
  connectionSteady: () => 'Der Widerstand des Netzes blieb gleich.',
  connectionNotTold: () => 'Ob sich eine Verbindung verändert, ließ sich nicht sagen.',
  connectionGrew: ({ before, after, watts, atS }) =>
    `Bei ${seconds(atS)} stieg der Widerstand des Netzes von ${ohms(before)} auf ` +
    `${ohms(after)}. Hat niemand die Verlängerung gewechselt, versagt eine Verbindung, ` +
    `${spot(watts)}. ${stop}`,
  connectionHeats: ({ before, after, watts }) =>
    `Während der Lichtbogen brennt, steigt der Widerstand des Netzes von ${ohms(before)} auf ` +
    `${ohms(after)}: eine Verbindung wird heiß, ${spot(watts)}. ${stop}`,
  connectionWanders: ({ before, after, watts }) =>
    `Der Widerstand des Netzes springt zwischen ${ohms(before)} und ${ohms(after)}: ` +
    `eine Verbindung ist lose, ${spot(watts)}. ${stop}`,
  connectionPerhaps: ({ before, after }) =>
    `Als dieser Lichtbogen begann, ging der Widerstand des Netzes von ${ohms(before)} auf ` +
    `${ohms(after)}. Absetzen: bleibt es dabei, versagt eine Verbindung.`,
  connectionSmall: ({ before, after }) =>
    `Der Widerstand des Netzes ging von ${ohms(before)} auf ${ohms(after)}. ` +
    'Hat niemand die Verlängerung gewechselt, Stecker und Steckdose prüfen lassen.',
  connectionWatts: ({ low, high, amps: at }) =>
    `Bei ${amps(at)} macht der zusätzliche Widerstand ${fixed(low, 0)} bis ${fixed(high, 0)} W ` +
    'Wärme. Zwischen Anschluss und Sensor suchen: Stecker, Steckdose, Klemmen, ' +
    'Leitungsschutzschalter.',

  supplyRefused: ({ code, params }) => (whyRefused[code] ?? whyRefused['no-step']!)(params),
  loadContradicted: (of) =>
    `Vorhergesagt sind bei ${amps(of.amps)} mindestens ${volts(of.predicted, of.volts)}, ` +
    `gemessen wurden dort nur ${volts(of.volts, of.predicted)}: die Volllast ist nicht belegt.`,

  generator: ({ low, high, dip, kva }) =>
    `Das ist ein Generator: ${fixed(low, 1)} bis ${fixed(high, 1)} Hz, ` +
    `und die Spannung bricht um ${percent(dip)} ein, wenn ein Lichtbogen beginnt.` +
    (kva === null ? '' : ` Für diese Maschine braucht er mindestens ${fixed(kva, 1)} kVA.`),
  generatorClass: ({ name, volts: settled }) =>
    (name === null
      ? 'Einbrüche und Frequenz überschreiten die Klasse G1 der ISO 8528-5.'
      : `Einbrüche und Frequenz liegen in der Klasse ${name} der ISO 8528-5.`) +
    (settled === null ? '' : ` Die Spannung pendelte sich bei ${volts(settled)} ein.`),
  generatorLight: ({ part, amps: at }) =>
    `Ein Generator: nur Gemessenes zählt, und die größte Last war ${percent(part, 0)} der ` +
    `${amps(at)} des Leistungsschilds. Zum Nachweis mit der kräftigsten Einstellung schweißen.`,
  generatorHolds: (of) =>
    `An diesem Generator pendelt sich die Spannung bei ${amps(of.amps)} auf etwa ` +
    `${volts(of.value, of.limit)} ein; das Leistungsschild verlangt ${volts(of.limit, of.value)}.`,
};
