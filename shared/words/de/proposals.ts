import type { proposals as english } from '../en/proposals.ts';
import { figuresWith } from '../figures.ts';

const { amps, gauge, given, length, percent, volts } = figuresWith(',');

const bared = (bare: boolean, says: string) =>
  bare ? `Ohne Verlängerung, und dazu: ${says}` : says;

export const proposals: typeof english = {
  plugInDirectly: () => 'Ohne Verlängerung einstecken oder das Fahrzeug an die Steckdose holen.',
  cordSameLength: ({ cord }) =>
    `Eine einzige Verlängerung mit ${gauge(cord)} für dieselben ${length(cord)}.`,
  cordUpTo: ({ cord }) =>
    `Eine einzige Verlängerung mit ${gauge(cord)}, höchstens ${length(cord)} lang.`,

  setNoMore: ({ weldAmps, inputAmps, bare }) =>
    bared(
      bare,
      `Höchstens ${amps(weldAmps)} am Brenner einstellen, etwa ${amps(inputAmps)} aus der ` +
        'Steckdose. Nur wenn die Vorgabe so wenig zulässt.',
    ),
  drawNoMore: ({ inputAmps, bare }) =>
    bared(bare, `So einstellen, dass sie höchstens ${amps(inputAmps)} aus der Steckdose zieht.`),
  weldNoMore: ({ share, bare }) =>
    bared(
      bare,
      `Von zehn Minuten höchstens ${percent(share, 0)} schweißen und die Maschine ruhen lassen.`,
    ),
  weldAt: ({ name, measured }) =>
    measured
      ? `Am Stromkreis ${name} schweißen, so wie gemessen.`
      : `Am Stromkreis ${name} schweißen, nach der Beschreibung: zuerst die Steckdose prüfen.`,

  ownCircuit: ({ fall }) =>
    `Ein eigener Stromkreis: Ein anderer Verbraucher an diesem nimmt ${volts(fall)}. ` +
    'Bis dahin ausstecken, was sonst daran läuft.',
  copperBranch: ({ wire, run, present }) =>
    `Kupfer mit ${gauge(wire)} vom Verteiler an, ${length(run)}, statt ${gauge(present)}.`,
  otherInput: ({ plate }) =>
    `Das Leistungsschild nimmt auch ${given(plate)} V: dieselbe Leitung als Stromkreis mit ` +
    `${given(plate)} V, mit dem Leitungsschutzschalter und der Steckdose dafür.`,
  lowerTap: ({ part }) =>
    `Lässt sich die Anzapfung des Transformators um ${percent(part)} tiefer stellen? ` +
    'Was er sonst noch speist, muss das auch vertragen.',
  boosting: ({ part }) =>
    `Ein Transformator für diese Maschine, der die Spannung um ${percent(part, 0)} anhebt.`,
  bucking: ({ part }) =>
    `Ein Transformator für diese Maschine, der die Spannung um ${percent(part, 0)} absenkt.`,

  expected: (of) =>
    `An der Maschine zu erwarten: ${of.open === null ? '' : `${volts(of.open)} ohne Last, `}` +
    `${volts(of.value, of.needs)}.`,
  electriciansWork: () => 'Sache einer Elektrofachkraft und der örtlichen Vorschriften.',
};
