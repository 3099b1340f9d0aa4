import type { surroundings as english } from '../en/surroundings.ts';
import { figuresWith } from '../figures.ts';
import { services } from './services.ts';
import { sources } from './sources.ts';

const { amps, fixed, gauge, percent, seconds, volts } = figuresWith(',');

const moved = ({ volts: by, atS }: { volts: number; atS: number }) =>
  by < 0
    ? `Die Spannung fiel bei ${seconds(atS)} um ${volts(-by)}, ohne dass diese Maschine mehr zog: `
    : `Die Spannung stieg bei ${seconds(atS)} um ${volts(by)}, ohne dass diese Maschine weniger ` +
      'zog: ';

export const surroundings: typeof english = {
  noNominal: () => 'Keine Nennspannung passt zu dem, was gemessen wurde.',
  noSag: ({ nominal }) => `Die Spannung sank nie unter 90 % von ${nominal} V.`,
  sag: ({ volts: low, nominal, seconds: long, category, count, arc }) =>
    `Ein Einbruch auf ${volts(low)}, ${percent(low / nominal, 0)} der Nennspannung, ` +
    `${seconds(long)} lang${category === null ? '' : ` (${sources[category] ?? category})`}` +
    (count > 1 ? `, der schlimmste von ${count}` : '') +
    `${arc ? ', beim Schweißen' : ', ohne dass ein Lichtbogen brannte'}.`,
  swell: ({ volts: high, nominal, seconds: long, category, count, arc }) =>
    `Eine Überhöhung auf ${volts(high)}, ${percent(high / nominal, 0)} der Nennspannung, ` +
    `${seconds(long)} lang${category === null ? '' : ` (${sources[category] ?? category})`}` +
    (count > 1 ? `, die schlimmste von ${count}` : '') +
    `${arc ? ', beim Schweißen' : ', ohne dass ein Lichtbogen brannte'}.`,

  threePhasesNeeded: () => 'Die Maschine braucht drei Phasen; dieser Stromkreis hat eine.',
  onePair: () => 'Nur ein Paar wurde gemessen: Außenleiter lassen sich nicht vergleichen.',
  phaseMissing: ({ phase, low, high }) =>
    `Phase ${phase} fehlt: ${volts(low)}, wo andere ${volts(high)} haben. Aufhören.`,
  lookForFuse: () =>
    'Nach einer durchgebrannten Sicherung, einem offenen Schalterpol oder einer losen Klemme ' +
    'sehen.',
  onePhaseSeen: () =>
    'Die Maschine braucht drei Phasen; gemessen wurde eine, von den anderen ist nichts bekannt.',
  twoOfThree: () =>
    'Die Maschine braucht drei Phasen; gemessen wurden zwei, von der dritten ist nichts bekannt.',
  splitNoThree: () =>
    'Die Maschine braucht drei Phasen; hier sind nur die zwei Außenleiter eines ' +
    'Einphasen-Dreileiternetzes. Nicht einstecken.',
  sameLeg: ({ between }) =>
    `Beide Paare messen denselben Außenleiter: zwischen ihnen liegen ${volts(between)}. ` +
    'Vom anderen ist nichts bekannt.',
  phaseTwice: () => 'Eine Phase wird zweimal gemessen: von der dritten ist nichts bekannt.',
  serviceUnknown: () =>
    'Beträge und Winkel der Spannungen passen zu keinem Netz, das eine Werkstatt speist: eine ' +
    'Messleitung kann vertauscht oder verdreht sein.',
  lineOrNeutral: () =>
    'Ob diese Spannungen zwischen Außenleitern liegen oder zum Neutralleiter, sagen Schild und ' +
    'Stromwinkel nicht: das Netz kann um √3 zu hoch sein.',
  checkSensorWires: () => 'Prüfen, auf welchen Leitern die Spannungsabgriffe des Sensors sitzen.',
  serviceTwoLegs: ({ arrangement, between }) =>
    `${services[arrangement]}: ${volts(between)} zwischen den beiden.`,
  otherLineDead: ({ phase, low }) =>
    `Leiter ${phase} ist tot (${volts(low)}); die Maschine hängt nicht daran.`,
  wildLeg: ({ high }) =>
    `${volts(high)}, wo 120 V sein sollen: das kann der hohe Außenleiter eines ` +
    'Dreiecknetzes sein. Nicht einstecken.',
  findHighLeg: () =>
    'Der hohe Außenleiter darf keine 120-V-Steckdose speisen: die Verdrahtung suchen und ' +
    'berichtigen.',
  neutralNotTested: () =>
    'Eine Schweißung zwischen beiden Außenleitern zieht nichts durch den Neutralleiter: er wurde ' +
    'nicht geprüft.',
  legsTogether: ({ low, high, between }) =>
    `${services['split-phase']}, ${volts(between)} zwischen ihnen, bleiben beieinander: ` +
    `schlimmstenfalls ${volts(low)} und ${volts(high)}.`,
  legsApart: ({ low, high }) =>
    `Ein Außenleiter stieg auf ${volts(high)}, der andere fiel auf ${volts(low)}: der ` +
    'Neutralleiter kann schadhaft sein. Aufhören und eine Elektrofachkraft rufen.',
  legsOpposed: ({ volts: by, steps }) =>
    `${steps}-mal stieg ein Außenleiter, während der andere fiel, um bis zu ${volts(by)}: der ` +
    'Neutralleiter hat mehr Widerstand, als er soll. Eine Elektrofachkraft rufen.',
  checkNeutral: () => 'Jede Verbindung des Neutralleiters prüfen, vom Anschluss bis zur Steckdose.',
  phasesDiffer: ({ arrangement, part, usual }) =>
    `${services[arrangement]}: von Leiter zu Leiter weichen die Spannungen höchstens ` +
    `${percent(part)} ab; üblich sind ${percent(usual, 0)}.`,

  waveformTooShort: () => 'Die Aufzeichnung ist zu kurz für ein Urteil über die Kurvenform.',
  wrongFrequency: ({ supply, plate }) =>
    `Das Netz hat ${supply} Hz; das Leistungsschild nennt nur ${plate.join(' und ')} Hz.`,
  frequency: ({ low, high, strains }) =>
    `Die Frequenz lag zwischen ${fixed(low, 2)} und ${fixed(high, 2)} Hz` +
    (strains ? ': das sieht nach einem überlasteten Generator aus.' : '.'),
  distortion: ({ percent: part, over }) =>
    `Die Verzerrung der Spannung beträgt ${fixed(part, 1)} %` +
    (over ? ': ein überlasteter Generator oder Transformator.' : '.'),
  crest: ({ crest, flat }) =>
    `Der Scheitel der Spannung ist das ${fixed(crest, 2)}-Fache ihres Effektivwerts` +
    (flat ? ', ein Sinus hat 1,41: die Kuppe ist flach, das Netz ist weich.' : '.'),

  dutyTooShort: () => 'Einschaltdauer meint zehn Minuten; diese Aufzeichnung ist kürzer.',
  duty: ({ part, plate, over }) =>
    `Der Lichtbogen brannte ${percent(part, 0)} der dichtesten zehn Minuten; ` +
    `das Leistungsschild erlaubt ${over ? 'höchstens ' : ''}${percent(plate, 0)}` +
    (over ? ': die Maschine abkühlen lassen.' : '.'),
  effective: ({ amps: seen, plate }) =>
    `In den dichtesten zehn Minuten floss ein Effektivstrom von ${amps(seen)}; ` +
    `das Leistungsschild nennt ${amps(plate)}.`,
  branchCarried: ({ amps: seen, wire, carries }) =>
    `Die Zuleitung trug in zehn Minuten ${amps(seen)} effektiv; ` +
    `ihre ${gauge(wire)} dürfen ${amps(carries)} tragen.`,
  notDedicated: () => 'Niemand hat gesagt, dass dieser Stromkreis nur der Maschine dient.',
  othersNotTold: () => 'Ob an diesem Stromkreis noch etwas läuft, ließ sich nicht sagen.',
  noOther: () => 'Sonst schaltete hier nichts, soweit zu sehen war.',
  otherSmall: (step) =>
    `${moved(step)}nicht mehr, als Verbraucher im Gebäude und das Netz ohnehin bewirken. ` +
    'Woher es kam, kann ein einzelner Sensor nicht sagen.',
  otherMomentary: ({ volts: by, atS }) =>
    `Die Spannung ${by < 0 ? 'brach' : 'sprang'} bei ${seconds(atS)} um ${volts(Math.abs(by))} ` +
    `${by < 0 ? 'ein' : 'hoch'} und war nach wenigen Sekunden wieder da: keine Last, die bleibt.`,
  otherAbove: ({ breaker, ...step }) =>
    `${moved(step)}mehr, als eine Last hinter diesem ${amps(breaker)}-Automaten durchhielte. ` +
    'Es kam von weiter vorn: aus dem Gebäude oder aus dem Netz.',
  otherPerhaps: (step) =>
    `${moved(step)}vielleicht läuft noch etwas an diesem Stromkreis, oder im Gebäude schaltete ` +
    'eine große Last. Ein einzelner Sensor kann das nicht unterscheiden.',
  otherStarts: ({ surge, ...step }) =>
    `${moved({ ...step, volts: surge })}etwas Großes lief an, und ${volts(Math.abs(step.volts))} ` +
    'davon blieben. Es kann an diesem Stromkreis sein. Ein einzelner Sensor kann das nicht ' +
    'unterscheiden.',
  otherSteps: ({ count, volts: by, amps: here }) =>
    `${count === 1 ? 'Ein solcher Sprung' : `${count} solche Sprünge; der größte`}, ${volts(by)}` +
    (here === null ? '.' : `: an diesem Stromkreis wäre das eine Last von ${amps(here)}.`),
  otherToTell: () =>
    'So lässt es sich klären: alles ausschalten, was sonst an diesem Stromkreis sein könnte, und ' +
    'noch einmal schweißen; einen zweiten Sensor an einen anderen Stromkreis setzen; oder den ' +
    'Stromkreis von einer Elektrofachkraft verfolgen lassen.',

  noCoupon: () => 'Keine bestandene Probenaht ist bekannt, mit der zu vergleichen wäre.',
  couponItself: () => 'Das ist eine Probenaht: Ihre eigene Prüfung kommt noch.',
  couponLacking: () =>
    'Zu dieser Einstellung gibt es keine bestandene Probenaht: vor dem Fahrzeug eine schweißen ' +
    'und prüfen.',
  couponTooShort: () =>
    'Die Lichtbögen der bestandenen Probenaht waren zu kurz, um mit ihnen zu vergleichen.',
  couponHoldsNoLonger: () => 'Die bestandene Probenaht gilt nicht mehr.',
  couponAnew: () => 'Vor dem Fahrzeug eine neue prüfen.',
  arcTooShort: () => 'Der Lichtbogen war zu kurz, um ihn mit einer Probenaht zu vergleichen.',
  heatInside: ({ watts, low, high }) =>
    `Der Lichtbogen nahm ${fixed(watts, 0)} W, innerhalb der ${fixed(low, 0)} bis ` +
    `${fixed(high, 0)} W der Probenaht.`,
  heatOutside: (of) =>
    `Der Lichtbogen nahm ${fixed(of.watts, 0)} W, ` +
    `${percent(Math.abs(of.watts / of.limit - 1), 0)} ` +
    `${of.watts < of.limit ? 'unter' : 'über'} dem näheren Ende der ${fixed(of.low, 0)} bis ` +
    `${fixed(of.high, 0)} W der Probenaht: er kann ${of.cold ? 'kälter' : 'heißer'} sein. ` +
    'Bei dieser Einstellung eine Probenaht prüfen.',
};
