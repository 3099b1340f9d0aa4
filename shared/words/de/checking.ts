import type { checking as english } from '../en/checking.ts';
import { figuresWith, type Gauge, type Length } from '../figures.ts';

const { amps, fixed, gauge, length, percent, seconds, volts } = figuresWith(',');

const cordsOf = (cords: (Gauge & Length)[]) =>
  cords.map((cord) => `${length(cord)} mit ${gauge(cord)}`).join(' und ') || 'keine';
const changed = (
  { was, now }: { was: string | null; now: string | null },
  none = 'nicht genannt',
) => `${was ?? none}; jetzt ${now ?? none}`;
const movedBy = (moved: number) =>
  moved < 0.05 ? '' : `, und die Spannung sprang um ${fixed(moved, 1)} V`;
const places = { outlet: 'der Steckdose', machine: 'der Maschine' };

export const checking: typeof english = {
  noCurrentYet: () => 'Noch wurde kein Strom gelesen.',
  nothingFlows: ({ flowing }) => `Es fließt kein Strom: ${amps(flowing)}.`,
  currentFlows: ({ flowing }) =>
    `Es fließen ${amps(flowing)}: etwas ist eingesteckt oder eingeschaltet.`,
  noVoltageYet: () => 'Noch wurde keine Spannung gelesen.',
  voltageThere: ({ there }) => `${volts(there)} am Sensor.`,
  steady: ({ forS }) => `Seit ${seconds(forS)} ruhig.`,
  steadyMore: ({ leftS, moved }) =>
    (moved === null ? '' : `Etwas hat geschaltet${movedBy(moved)}. `) +
    `Noch ${seconds(leftS)} ruhige Spannung.`,
  machineOn: ({ more }) => `Die Maschine zieht ${fixed(more, 2)} A: sie ist an.`,
  machineOff: () => 'Nicht mehr Strom als ohne Maschine: Ist sie eingeschaltet?',

  wantLong: ({ leastS }) => `Eine Probenaht von ${fixed(leastS, 0)} s oder länger.`,
  wantHeavy: ({ part, least }) =>
    `${amps(least)} oder mehr: ${percent(part, 0)} des vollen Stroms auf dem Leistungsschild.`,
  wantWhole: () => 'Keine Abtastwerte unterwegs verloren.',
  wantFullLoad: () => 'Genug Strom, um zu sagen, was Volllast täte.',
  beadLong: (of) =>
    `Die Probenaht ${of.burning ? 'dauert' : 'dauerte'} ${seconds(of.longS)}; nötig sind ` +
    `${fixed(of.leastS, 0)} s.`,
  beadDrew: ({ drawn }) => `${amps(drawn)} gezogen.`,
  beadDrewPart: ({ drawn, part, least }) =>
    `${amps(drawn)} gezogen, ${percent(part, 0)} des vollen Stroms auf dem Leistungsschild; ` +
    `nötig sind ${percent(least, 0)}.`,
  beadWhole: () => 'Keiner ihrer Abtastwerte ging unterwegs verloren.',
  beadLost: ({ part }) => `${percent(part)} ihrer Abtastwerte gingen unterwegs verloren.`,
  supplyEstimated: () => 'Was Volllast täte, ist bekannt.',
  fullLoadNotYet: () => 'Was Volllast täte, ist noch nicht belegt.',
  cordNotTested: () => 'Die Verlängerung war nicht dabei: die zweite Probenaht mit ihr schweißen.',

  startedAnewSteady: () =>
    'Der Server wurde neu gestartet. Noch einmal ruhige Spannung abwarten; was getan war, gilt.',
  startedAnewBead: () =>
    'Der Server wurde neu gestartet. Die Probenaht wurde abgeschnitten: noch einmal schweißen; ' +
    'was getan war, gilt.',
  startedAnew: () =>
    'Der Server wurde neu gestartet. Dort weitermachen, wo Sie waren; was getan war, gilt.',
  tookTooLong: () => 'Die Prüfung dauerte über eine Stunde: neu beginnen.',
  arcCameFirst: ({ empty, idle }) => {
    const missing = [
      ...(empty ? ['bei leerer Steckdose'] : []),
      ...(idle ? ['im Leerlauf der Maschine'] : []),
    ];
    return (
      `Ein Lichtbogen kam, bevor die Spannung ${missing.join(' und ')} gemessen war; dafür gilt ` +
      'die Leerlaufspannung vor der Naht.'
    );
  },
  noSuchChoice: () => 'Das steht bei diesem Schritt nicht zur Wahl.',
  stopped: () => 'Abgebrochen: nichts wurde beurteilt.',
  stoppedByChange: () =>
    'Abgebrochen: Maschine, Stromkreis oder Verlängerung wurden inzwischen geändert.',
  stoppedByAnother: () => 'Abgebrochen: an dieser Steckdose wurde eine andere Prüfung begonnen.',
  notYet: () => 'Noch nicht:',

  checkedOn: (of) => `Geprüft am Stromkreis ${changed(of)}.`,
  checkedWith: (of) => `Geprüft mit der Maschine ${changed(of)}.`,
  checkedAt: (of) => `Geprüft am Platz ${changed(of)}.`,
  checkedCords: ({ was, now }) =>
    `Verlängerung bei der Prüfung: ${cordsOf(was)}; jetzt: ${cordsOf(now)}.`,
  checkUndated: () => 'Das Datum der Prüfung lässt sich nicht lesen.',
  checkOfTomorrow: () => 'Die Prüfung trägt ein Datum nach heute: nach den Uhren sehen.',
  checkOld: ({ days, most }) =>
    `${days} Tage alt; nach mehr als ${most} wird neu geprüft (übliche Praxis, ohne Quelle).`,

  weldedWith: (of) =>
    `Geschweißt mit ${changed(of, 'keiner genannten Maschine')}, oder ihr Leistungsschild wurde ` +
    'neu geschrieben.',
  weldedOn: (of) =>
    `Geschweißt an ${changed(of, 'keinem genannten Stromkreis')}, oder seine Leitung wurde neu ` +
    'beschrieben.',
  weldedCords: ({ was, now }) =>
    `Verlängerung beim Schweißen: ${cordsOf(was)}; jetzt: ${cordsOf(now)}.`,
  measuredAt: ({ was, now }) => `Gemessen an ${places[was]}; jetzt an ${places[now]}.`,
};
