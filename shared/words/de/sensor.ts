import type { sensor as english } from '../en/sensor.ts';
import { figuresWith } from '../figures.ts';

const { amps, fixed, given, percent, seconds, volts } = figuresWith(',');

const again = 'dann neu aufzeichnen.';

export const sensor: typeof english = {
  sensorPassed: () =>
    'Die Messwerte sind stimmig: keine gekappten Spitzen, keine wiederholten Werte, und die ' +
    'Leistung fließt zur Maschine.',
  sensorInDoubt: () => 'Der Sensor ist fraglich, das beweist also nichts.',
  clippedVolts: ({ pair }) =>
    `Der Spannungseingang von Paar ${pair} ist am Anschlag: Die Spitzen sind gekappt, der ` +
    'wirkliche Spannungsabfall ist größer, als er aussieht. Größeren Spannungsbereich ' +
    `einstellen, ${again}`,
  clippedAmps: ({ pair }) =>
    `Der Stromeingang von Paar ${pair} ist am Anschlag: Die Spitzen sind gekappt, der ` +
    `wirkliche Strom ist höher, als er aussieht. Größeren Strombereich einstellen, ${again}`,
  heldVolts: ({ pair, seconds: long }) =>
    `Die Spannung von Paar ${pair} stand ${seconds(long)} lang still: Werte wurden wiederholt ` +
    `statt gemessen. Sensor und Datenleitung prüfen, ${again}`,
  heldAmps: ({ pair, seconds: long }) =>
    `Der Strom von Paar ${pair} stand ${seconds(long)} lang still: Werte wurden wiederholt ` +
    `statt gemessen. Sensor und Datenleitung prüfen, ${again}`,
  offsetVolts: ({ pair, part }) =>
    `Die Spannung von Paar ${pair} liegt um ${percent(part, 0)} ihres Scheitels neben der ` +
    `Mitte; das gibt es an keiner Steckdose. Spannungseingang prüfen lassen, ${again}`,
  channelsAlike: ({ one, other }) =>
    `Die Kanäle ${one} und ${other} enthalten dieselben Werte. Prüfen, an welcher Ader jeder ` +
    `Eingang liegt, ${again}`,
  ampsWithoutVolts: ({ pair }) =>
    `Auf Paar ${pair} floss Strom, während der Spannungseingang nichts anzeigte. ` +
    `Spannungsleitungen prüfen, ${again}`,
  sensorReversed: ({ pair }) =>
    `Auf Paar ${pair} fließt die Leistung rückwärts: Der Stromwandler sitzt verkehrt herum ` +
    `oder an einer anderen Ader. Von einer Elektrofachkraft umdrehen lassen, ${again} Diese ` +
    'Aufzeichnung bleibt, wie sie ist.',
  legsMixed: ({ pair, degrees }) =>
    `Der Strom von Paar ${pair} gehört nicht zu seiner Spannung: Sie liegen ` +
    `${fixed(degrees, 0)}° auseinander. Jeden Stromwandler von einer Elektrofachkraft an die ` +
    `Ader setzen lassen, zu deren Spannung er gehört, ${again}`,
  overPlate: ({ amps: seen, plate }) =>
    `${amps(seen)} kann eine Maschine mit ${amps(plate)} nicht ziehen: Der Strombereich des ` +
    'Sensors ist falsch eingestellt, oder es hängt eine andere Maschine daran. Beides prüfen, ' +
    `${again}`,
  overBreaker: ({ amps: seen, breaker }) =>
    `${amps(seen)} würden eine Sicherung mit ${given(breaker)} A sofort auslösen: Der ` +
    'Strombereich des Sensors ist falsch eingestellt, oder es ist ein anderer Stromkreis. ' +
    `Beides prüfen, ${again}`,
  noSuchClass: ({ volts: seen }) =>
    `Der Sensor zeigt ohne Last ${volts(seen)}; das hat keine Steckdose. Spannungsbereich ` +
    `prüfen, ${again}`,
  halvesDiffer: ({ pair, part }) =>
    `Die beiden Halbwellen des Stroms von Paar ${pair} unterscheiden sich um ` +
    `${percent(part, 0)}: Der Stromwandler ist vielleicht übersteuert, oder der Gleichrichter ` +
    'der Maschine wird defekt.',
  offsetAmps: ({ pair, part }) =>
    `Der Strom von Paar ${pair} liegt um ${percent(part, 0)} seines Scheitels neben der ` +
    'Mitte: Stromwandler auf null abgleichen.',
};
