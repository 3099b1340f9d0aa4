import type { wiring as english, SupplyClass, Wire } from '../en/wiring.ts';
import { figuresWith } from '../figures.ts';
import { withGun } from './with-gun.ts';

const { amps, fixed, gauge, length, percent, volts } = figuresWith(',');

const metals = { copper: 'Kupfer', aluminium: 'Aluminium' };
const decides = 'Das entscheiden eine Elektrofachkraft und die örtlichen Vorschriften.';
const named = ({ described }: SupplyClass) =>
  described === null ? 'Das ist' : `Der Stromkreis, mit ${described} V beschrieben, misst sich als`;
const apart = ({ supply, plate }: SupplyClass) =>
  `${percent(Math.abs(supply / plate - 1))} ${supply < plate ? 'darunter' : 'darüber'}`;
const wired = ({ wire, metal }: Wire) => `${gauge(wire)} ${metals[metal]}`;
const machines = (count: number) => (count === 1 ? 'eine Maschine' : `${count} Maschinen`);
/** After "mit", "von". */
const ofMachines = (count: number) => (count === 1 ? 'einer Maschine' : `${count} Maschinen`);

export const wiring: typeof english = {
  noClass: () => 'Kein Leistungsschild oder keine Netzspannung ist bekannt, um zu vergleichen.',
  classFits: (of) =>
    `${named(of)} ein Netz von ${volts(of.supply)}, und das Leistungsschild nimmt ` +
    `${volts(of.plate)}.`,
  classNear: (of) =>
    `${named(of)} ein Netz von ${volts(of.supply)} für ein Leistungsschild von ` +
    `${volts(of.plate)}: ${apart(of)}, noch vor jeder Last, und wenig bleibt für einen Einbruch.`,
  classFar: (of) =>
    `${named(of)} ein Netz von ${volts(of.supply)} für ein Leistungsschild von ` +
    `${volts(of.plate)}: ${apart(of)}.`,
  classHigh: (of) =>
    `${named(of)} ein Netz von ${volts(of.supply, of.limit)}; die Maschine ist für ` +
    `${volts(of.plate)} gebaut und verträgt höchstens ${volts(of.limit, of.supply)}: ` +
    'sie kann zerstört werden.',
  classHighNear: (of) =>
    `${named(of)} ein Netz von ${volts(of.supply, of.limit)}, und das Leistungsschild von ` +
    `${volts(of.plate)} erlaubt höchstens ${volts(of.limit, of.supply)}: die Spannung kann ` +
    'darüber steigen.',
  classOther: (of) =>
    `${named(of)} ein Netz von ${volts(of.supply)}; die Maschine ist für ${volts(of.plate)} ` +
    'gebaut und gehört an eine andere Steckdose.',
  service208: () =>
    'Nach dem Winkel zwischen seinen Außenleitern ist das ein 208-V-Netz (208Y/120): ' +
    'kein Kabel macht 240 V daraus.',
  askOtherSupply: () =>
    'Nach einer anderen Steckdose, einem Transformator oder einer Maschine für dieses Netz fragen.',
  suitsWork: ({ gun }) =>
    `Die Maschine passt${gun === null ? '' : ` mit ihrem Brenner „${gun}“`} zur Arbeit.`,
  notSetUp: ({ gun }) => `${withGun(gun)}Für dieses Verfahren ist sie nicht eingerichtet.`,
  procedureAsks: ({ name, least, plate }) =>
    `Die Vorgabe ${name} verlangt eine Maschine für mindestens ${least} V; auf dem ` +
    `Leistungsschild stehen ${plate} V.`,
  aluminiumClass: ({ gun }) =>
    `${withGun(gun)}Aluminium braucht eine Maschine der Klasse 200–240 V; diese hat die ` +
    'Klasse 120 V.',
  brazeClass: ({ gun }) =>
    `${withGun(gun)}MIG-Löten braucht eine Maschine der Klasse 200–240 V, keine der Klasse 120 V.`,
  noPulse: ({ gun }) =>
    `${withGun(gun)}Die Arbeit verlangt Impulsbetrieb; das Leistungsschild nennt keinen.`,
  noWireSize: ({ inches, gun }) =>
    `${withGun(gun)}Das Leistungsschild nennt keinen Draht von ${fixed(25.4 * inches, 1)} mm ` +
    `(${fixed(inches, 3)} Zoll).`,

  dropNotKnown: () =>
    'Der Spannungsfall bei Volllast ist nicht bekannt: das Netz ließ sich nicht schätzen.',
  totalDrop: ({ amps: at, part, usual }) =>
    `Bei ${amps(at)} fiele die Spannung um ${percent(part)} ihres Werts ohne Last; ` +
    `geraten wird meist zu insgesamt höchstens ${percent(usual, 0)}.`,
  fromOpenVoltage: () =>
    'Von der Spannung ohne Last an gemessen: Transformator und Hausanschluss sind darin enthalten.',
  branchDrop: ({ amps: at, part, usual }) =>
    `Die Zuleitung allein nimmt bei ${amps(at)} ${percent(part)}; ` +
    `geraten wird meist zu höchstens ${percent(usual, 0)}.`,

  noPlate: () => 'Kein Leistungsschild ist bekannt.',
  wiringNotDescribed: () => 'Leitung, Leitungsschutzschalter und Steckdose sind nicht beschrieben.',
  electricianDecides: () => decides,
  branchCarries: ({ carries, least, ...of }) =>
    `Die ${wired(of)} der Zuleitung dürfen ${amps(carries)} tragen; verlangt sind ` +
    `${amps(least)} effektiv.`,
  fullCurrent: (of) =>
    `Das Arbeitsschutzrecht verlangt von ${wired(of)} ${amps(of.amps)}, den vollen ` +
    `Netzstrom: ${of.good ? 'so viel trägt sie.' : `sie trägt ${amps(of.carries)}.`}`,
  stricterRule: () => `Die strengere der beiden Regeln für eine Maschine. ${decides}`,
  neverLarger: () => `Nie ein größerer Leitungsschutzschalter, nur weil er auslöst. ${decides}`,
  breakerLarge: ({ breaker, most }) =>
    `Ein Leitungsschutzschalter von ${amps(breaker)}; für diese Maschine sind ${amps(most)} ` +
    'das Höchste.',
  breakerLargeForWire: (of) =>
    `Ein Leitungsschutzschalter von ${amps(of.breaker)}; für ${gauge(of.wire)} zu einer ` +
    `Schweißmaschine sind ${amps(of.most)} das Höchste.`,
  noCord: () => 'Keine Verlängerung, oder kein Leistungsschild, ist beschrieben.',
  feederNoMachine: () => 'Keine Maschine der Liste passt zu einem seiner Stromkreise.',
  feederNotDescribed: () =>
    'Leiter und Leitungsschutzschalter der Speiseleitung sind nicht beschrieben.',
  feederNoLength: () =>
    'Die Länge der Speiseleitung ist nicht bekannt: daraus folgt keine Spannung.',
  feederCarries: ({ count, carries, least, ...of }) =>
    `Die ${wired(of)} der Speiseleitung dürfen ${amps(carries)} tragen; ${machines(count)} ` +
    `${count === 1 ? 'verlangt' : 'verlangen'} ${amps(least)} effektiv.`,
  feederShares: () =>
    `Von den zwei größten alles, 85, 70 und dann 60 % von den übrigen. ${decides}`,
  feederFull: (of) =>
    `Mit dem vollen Netzstrom einer jeden sind es ${amps(of.amps)}: ` +
    (of.good ? 'so viel trägt sie.' : `${wired(of)} trägt ${amps(of.carries)}.`),
  feederStricter: () => `Die strengere Rechnung; einer Gruppe mag weniger reichen. ${decides}`,
  feederBreaker: ({ breaker, least, count }) =>
    `Der Leitungsschutzschalter der Speiseleitung von ${amps(breaker)} steht ` +
    `${amps(least)} effektiv von ${ofMachines(count)} gegenüber.`,
  feederBreakerLarge: (of) =>
    `Ein Leitungsschutzschalter von ${amps(of.breaker)}; für ${gauge(of.wire)} zu ` +
    `Schweißmaschinen sind ${amps(of.most)} das Höchste.`,
  feederEnd: (of) =>
    `Mit ${ofMachines(of.count)} zugleich (${
      of.said ? 'wie der Betrieb sagt' : 'die Hälfte und mindestens zwei: übliche Praxis'
    }), ${amps(of.amps)}, hätte ihr Ende ${volts(of.value, of.needs)}` +
    (of.low === null ? '. ' : `, vielleicht nur ${volts(of.low, of.needs)}. `) +
    `Nötig sind dort ${volts(of.needs, of.value)}, vor Zuleitung und Verlängerungen.`,
  feederMeasure: () =>
    'Aus der beschriebenen Leitung berechnet: messen, ehe man sich darauf verlässt.',
  feederDrop: (of) =>
    `Ihre ${length(of.run)} nehmen bei ${amps(of.amps)} ${percent(of.part)}; ` +
    `für eine Speiseleitung wird meist zu höchstens ${percent(of.usual, 0)} geraten.`,
};
