import type { toDo as english } from '../en/to-do.ts';

const others = 'Den Kompressor ausstecken, oder was hier sonst läuft';

export const toDo: typeof english = {
  unplugAll: () => 'Ausstecken, was in dieser Steckdose steckt.',
  awaitReading: () => 'Auf den ersten Messwert warten.',
  unplugMachine: () => 'Die Maschine ausstecken; Verlängerung und Sensor bleiben.',
  lookAtBreaker: () =>
    'Nach dem Leitungsschutzschalter sehen, und ob der Sensor an dieser Steckdose sitzt.',
  waitTouchNothing: () => 'Warten: einige Sekunden lang nichts anfassen.',
  unplugOthersWait: () => `${others}; dann warten. Muss es laufen: jetzt die Probenaht schweißen.`,
  weldBead: () => 'Eine Probenaht schweißen.',
  keepWelding: () => 'Weiterschweißen.',
  weldLonger: () => 'Eine längere Probenaht schweißen.',
  weldHeavier: () => 'Die Maschine kräftiger einstellen und noch einmal schweißen.',
  nearerToNetwork: () =>
    'Den Sensor näher an das Netzwerk des Betriebs bringen und noch einmal schweißen.',
  unplugOthersWeld: () => `${others}, und noch einmal schweißen.`,
  keepWeldingToEnd: () => 'Weiterschweißen; auch das Ende der Naht zählt.',
  weldWithPauses: () =>
    'Noch einmal schweißen, länger und kräftiger, mit Pausen von einigen Sekunden.',
  leaveEmpty: () => 'Die Steckdose leer lassen, bis ihre Spannung gemessen ist.',
  leaveUnplugged: () =>
    'Die Maschine ausgesteckt lassen, bis die Spannung am Ende der Verlängerung gemessen ist.',
  doNotPlugIn: () => 'Die Maschine hier nicht einstecken. An eine andere Steckdose mit ihr.',
  plugIn: () => 'Die Maschine einstecken und einschalten, dann weiter.',
  leaveIdle: () => 'Die Maschine eingeschaltet lassen und nicht schweißen.',
  switchOn: () => 'Die Maschine einschalten.',
  goOnIfOn: () => 'Noch ist kein Strom zu sehen. Ist die Maschine an? Dann weiter.',
  clampCoupon: () => 'Ein Probestück aus demselben Blech einspannen, dann weiter.',
  firstBead: () =>
    'Auf dem Probestück eine Naht schweißen, zwei Sekunden oder länger, wie sonst eingestellt.',
  endBead: () => 'Genug gesehen: Die Naht kann enden.',
  enoughWithCord: () =>
    'Genug. Noch einmal mit der Verlängerung für die Arbeit schweißen, oder beurteilen lassen.',
  enoughForFull: () =>
    'Genug. Für sicherere Zahlen noch einmal bei voller Einstellung schweißen, oder beurteilen ' +
    'lassen.',
  enoughJudge: () => 'Genug: beurteilen lassen.',
  secondWithCord: () =>
    'Die Verlängerung ganz abrollen und dazwischenstecken, dann noch eine Probenaht schweißen.',
  secondAtFull: () =>
    'Die Maschine so hoch einstellen, wie die Arbeit es braucht, und noch eine Probenaht ' +
    'schweißen.',
  nameMachine: () => 'Die Maschine nennen: Alles wird an ihrem Leistungsschild gemessen.',
  tryCord: () => 'Die zweite Probenaht mit der Verlängerung für die Arbeit schweißen.',
  resultStands: () => 'Fertig: Das Ergebnis bleibt bei dieser Steckdose.',
  beginWhenReady: () => 'Eine neue Prüfung beginnen, wenn Sie so weit sind.',
};
