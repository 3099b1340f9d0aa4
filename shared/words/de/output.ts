import type { output as english } from '../en/output.ts';
import { figuresWith } from '../figures.ts';

const { amps, percent, volts } = figuresWith(',');

const given = (value: number, unit: string) =>
  unit === 'A' ? `${amps(value)} Schweißstrom` : `${percent(value, 0)} ihrer Bemessungsleistung`;

export const output: typeof english = {
  outputNotKnown: () => 'Was die Maschine bei Volllast abgäbe, ist nicht bekannt.',
  mustOnlyWork: () =>
    'Innerhalb von 10 % ihrer Bemessungsspannung muss eine Maschine laufen; ihre volle Leistung ' +
    'ist nicht zugesagt.',
  outputBelow: ({ volts: at, low }) =>
    `Bei ${volts(at, low)} läge die Maschine unter den ${volts(low, at)}, ab denen sie laufen ` +
    'muss: was sie dort abgibt, wenn überhaupt, ist nicht bekannt.',
  outputFull: ({ volts: at, plate }) =>
    `Bei Volllast hätte die Maschine ${volts(at, plate)}, auf dem Leistungsschild stehen ` +
    `${volts(plate, at)}: das nimmt weniger als 1 % ihrer Leistung.`,
  outputHeld: ({ volts: at, plate, more, amps: drawn }) =>
    `Diese Maschine hält ihre Leistung: bei ${volts(at, plate)} zöge sie ${amps(drawn)}, ` +
    `${percent(more, 0)} mehr als bei ${volts(plate, at)}.`,
  outputFalls: ({ volts: at, plate, less }) =>
    `Die Leistung dieser Maschine folgt der Spannung: bei ${volts(at, plate)} gäbe sie ` +
    `${percent(less, 0)} weniger ab als bei ${volts(plate, at)}.`,
  outputMayFall: ({ volts: at, plate, less }) =>
    'Wie die Leistung dieser Maschine der Spannung folgt, ist nicht bekannt. Ist es eine ' +
    `Trafomaschine, gäbe sie bei ${volts(at, plate)} ${percent(less, 0)} weniger ab als bei ` +
    `${volts(plate, at)}; ihr Leistungsschild kann es sagen.`,
  outputEnough: (of) =>
    `Der Auftrag verlangt mindestens ${given(of.least, of.unit)}; bei ` +
    `${volts(of.volts, of.plate)} gäbe diese Maschine ${given(of.gives, of.unit)}.`,
  outputShortOf: (of) =>
    `Der Auftrag verlangt mindestens ${given(of.least, of.unit)}; bei ` +
    `${volts(of.volts, of.plate)} gibt diese Maschine vielleicht nur ` +
    `${given(of.gives, of.unit)}.`,
  outputNotNamed: ({ least }) =>
    `Der Auftrag verlangt mindestens ${amps(least)} Schweißstrom; das Leistungsschild nennt ` +
    'keinen.',
  outputUnproven: (of) =>
    `Der Auftrag verlangt mindestens ${given(of.least, of.unit)}. Ob die Leistung dieser ` +
    `Maschine der Spannung folgt, ist nicht bekannt; wenn ja, gäbe sie bei ` +
    `${volts(of.volts, of.plate)} ${given(of.gives, of.unit)}. Auf ihrem Leistungsschild ` +
    'eintragen, ob sie das tut.',
};
