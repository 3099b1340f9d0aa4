import type { voltage as english } from '../en/voltage.ts';
import { figuresWith } from '../figures.ts';

const { amps, fixed, given, percent, seconds, volts } = figuresWith(',');

const ohms = (pair: [number, number] | null) =>
  pair ? `${fixed(pair[0], 3)} + j${fixed(pair[1], 3)} Ω` : '?';
const behind = (cord: boolean, place?: string) => (cord ? ' hinter der Verlängerung' : at(place));
const at = (place?: string) =>
  place === 'unstated' ? ' am Sensor' : place === 'outlet' ? ' an der Steckdose' : '';

export const voltage: typeof english = {
  noPlateForVoltage: () => 'Kein Leistungsschild, an dem die Spannung zu messen wäre.',
  samplesLost: ({ part }) =>
    `${percent(part, 0)} der Abtastwerte dieses Lichtbogens gingen unterwegs verloren.`,
  voltageHeld: ({ low, limit, amps: load, cord, place }) =>
    `Die Spannung${behind(cord, place)} hielt bei ${amps(load)} mindestens ${volts(low, limit)}; ` +
    `ab ${volts(limit, low)} muss die Maschine laufen.`,
  voltageNear: ({ low, limit, amps: load, cord, place }) =>
    `Die Spannung${behind(cord, place)} fiel bei ${amps(load)} auf ${volts(low, limit)}, ` +
    `zu nah an den ${volts(limit, low)}, die das Leistungsschild verlangt.`,
  voltageFell: ({ low, limit, amps: at, cord }) =>
    `Die Spannung${behind(cord)} fiel bei ${amps(at)} auf ${volts(low, limit)}; ` +
    `das Leistungsschild verlangt ${volts(limit, low)}.`,
  fall: ({ open, low }) =>
    `Von ${volts(open, low)} im Leerlauf der Maschine auf ${volts(low, open)} unter Last: ` +
    `ein Spannungsfall von ${percent((open - low) / open)}.`,
  voltageHigh: ({ high, limit }) =>
    `Die Spannung beträgt ${volts(high, limit)}, mehr als die ${volts(limit, high)}, ` +
    'die das Leistungsschild erlaubt: die Maschine kann Schaden nehmen.',
  voltageRose: ({ high, limit, idle }) =>
    `Während der Lichtbogen brannte, stieg die Spannung für 200 ms oder länger auf ` +
    `${volts(high, limit)}, mehr als die ${volts(limit, high)}, die das Leistungsschild erlaubt: ` +
    `die Maschine kann Schaden nehmen. Im Leerlauf der Maschine waren es ${volts(idle, limit)}.`,
  voltageRoseNear: ({ high, limit, idle }) =>
    'Während der Lichtbogen brannte, stieg die Spannung für 200 ms oder länger auf ' +
    `${volts(high, limit)}, zu nah an die ${volts(limit, high)}, die das Leistungsschild ` +
    `erlaubt. Im Leerlauf der Maschine waren es ${volts(idle, limit)}.`,
  findSwell: () =>
    'Die Spannung steigt unter Last: zuerst nach einem losen Neutralleiter suchen, dann nach ' +
    'großen Verbrauchern, die abschalten, nach Kondensatoren, die zuschalten, und nach dem ' +
    'Regler eines Generators.',
  checkTaps: () => 'Netzspannung und Anzapfungen des Transformators prüfen.',

  noPlateForStrike: () => 'Kein Leistungsschild, an dem das Zünden zu messen wäre.',
  strikeNotSeen: () => 'Das Zünden dieses Lichtbogens wurde nicht ganz gesehen.',
  strikeHeld: ({ low, limit, amps: load, cord, place }) =>
    `Beim Zünden hielt die Spannung${behind(cord, place)} bei ${amps(load)} ` +
    `${volts(low, limit)}; zum Anlaufen braucht die Maschine ${volts(limit, low)}.`,
  strikeNear: ({ low, limit, amps: load, cord, place }) =>
    `Beim Zünden sank die Spannung${behind(cord, place)} bei ${amps(load)} auf ` +
    `${volts(low, limit)}, zu nah an den ${volts(limit, low)}, die die Maschine zum Anlaufen ` +
    'braucht.',
  strikeFell: ({ low, limit, amps: at, cord }) =>
    `Beim Zünden sank die Spannung${behind(cord)} bei ${amps(at)} auf ${volts(low, limit)}; ` +
    `zum Anlaufen braucht die Maschine ${volts(limit, low)}, darunter zündet der Lichtbogen ` +
    'womöglich nicht.',
  strikesFailed: ({ count, low, limit, amps: at }) =>
    `${count}-mal stieg der Strom, und kein Lichtbogen folgte; die Spannung fiel bei ` +
    `${amps(at)} auf ${volts(low, limit)}: unter ${volts(limit, low)} zündet der Lichtbogen ` +
    'womöglich nicht.',

  noPlateForLoad: () => 'Kein Leistungsschild: die Volllast ist nicht bekannt.',
  loadNotProven: () =>
    'Was Volllast täte, ist noch nicht belegt: eine längere oder kräftigere Naht schweißen, ' +
    'während an diesem Stromkreis sonst nichts schaltet.',
  noStepLargeEnough: () =>
    'Kein Stromsprung war groß und ruhig genug, um das Netz daraus zu schätzen.',
  loadHolds: ({ value, limit, amps: load, place }) =>
    `Beim vollen Strom des Leistungsschilds, ${amps(load)}, hielte die Spannung${at(place)} ` +
    `${volts(value, limit)}; nötig sind ${volts(limit, value)}.`,
  loadNear: ({ value, lo, limit, amps: load, place }) =>
    `Beim vollen Strom des Leistungsschilds, ${amps(load)}, läge die Spannung${at(place)} bei ` +
    `${volts(value, limit)}, vielleicht nur bei ${volts(lo, limit)}; ` +
    `nötig sind ${volts(limit, value)}.`,
  loadFalls: ({ value, limit, amps: at }) =>
    `Beim vollen Strom des Leistungsschilds, ${amps(at)}, fiele die Spannung auf ` +
    `${volts(value, limit)}; nötig sind ${volts(limit, value)}.`,
  loadTooThin: (of) =>
    `Eine Naht von mindestens ${given(of.leastS)} s mit ${amps(of.leastAmps)} oder mehr ` +
    `schweißen. Bisher zählen ${seconds(of.seconds)} Last, der größte Sprung war ` +
    `${amps(of.amps)}: zu wenig für die vollen ${amps(of.full)} des Leistungsschilds.`,
  loopsLacking: ({ measured, needed }) =>
    `Die Maschine braucht ${needed} Phasen, der Sensor maß ${measured}: alle messen.`,
  impedance: ({ at, pairs }) =>
    `Netzimpedanz, ${at === 'machine' ? 'an der Maschine' : 'am Sensor'} gesehen: ` +
    `${pairs.map(ohms).join('; ')}.`,

  noPlateToJudge: () => 'Kein Leistungsschild, nach dem zu urteilen wäre.',
  noArc: () => 'Kein Lichtbogen wurde gesehen: über die Spannung unter Last ist nichts bekannt.',
};
