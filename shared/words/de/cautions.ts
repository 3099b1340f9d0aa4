import type { cautions as english } from '../en/cautions.ts';

const listed = { arcs: 'Lichtbögen', sags: 'Einbrüche', swells: 'Überhöhungen' } as const;

export const cautions: typeof english = {
  adequateMeans: () =>
    'Ausreichend heißt: der Strom war da, nicht: die Naht hält. Eine Probenaht prüfen.',
  manualRules: () =>
    'Die Anleitung der Maschine und die Vorgabe des Fahrzeugherstellers gehen vor.',
  forElectrician: () =>
    'Leitungen, Leitungsschutzschalter und Steckdosen sind Sache einer Elektrofachkraft und der ' +
    'örtlichen Vorschriften.',
  wrongSupply: () =>
    'Die Maschine hier nicht einstecken, und wenn sie steckt, ausstecken: ein passender Stecker ' +
    'sagt nichts über die Spannung.',
  hotPlug: () =>
    'Ein warmer Stecker, eine verfärbte Steckdose oder ein Brummen: aufhören und eine ' +
    'Elektrofachkraft nachsehen lassen.',
  neutral: () =>
    'Ein Außenleiter hoch und der andere tief kann ein schadhafter Neutralleiter sein: aufhören, ' +
    'abschalten, eine Elektrofachkraft rufen.',
  placeUnstated: () =>
    'Niemand sagte, ob der Sensor an der Steckdose oder an der Maschine sitzt. Eine Verlängerung ' +
    'dahinter nimmt mehr Spannung weg, als hier steht. Beim Stromkreis angeben.',
  cord: () => 'Die kürzeste und dickste Verlängerung nehmen und ganz abrollen.',
  planApproves: () =>
    'Ein Plan spricht nur von Strom und Leistungsschildern: er gibt keine Maschine und keine ' +
    'Naht frei.',
  listsRule: () =>
    'Die Vorgabe und die Geräteliste des Fahrzeugherstellers und die Anleitung der Maschine ' +
    'gehen vor.',
  describedIsEstimate: () =>
    'Ein Stromkreis, der nur nach seiner Beschreibung berechnet ist, ist geschätzt: vor dem Kauf ' +
    'messen.',

  backwards: ({ pair }) =>
    `Paar ${pair} misst Leistung, die rückwärts fließt: sein Stromsensor sitzt verkehrt herum ` +
    'oder auf einem anderen Leiter. Sitzt er in einer Steckdose oder einem Verteiler, dreht ihn ' +
    'eine Elektrofachkraft um; dann neu aufzeichnen.',
  notListed: ({ count, what }) =>
    `${count} weitere ${listed[what]} wurden beurteilt und ` +
    'stehen in den Befunden, aber nicht in der Liste.',

  wasAdequate: () => 'Der Stromkreis gab, was das Leistungsschild verlangt.',
  wasMarginal: () => 'Der Stromkreis lag an der Grenze dessen, was das Leistungsschild verlangt.',
  wasUnderpowered: () => 'Der Stromkreis gab nicht, was das Leistungsschild verlangt.',
  wasUnproven: () => 'Nichts belegt, was der Stromkreis gab.',
  wasUnsuited: () => 'Die Maschine ist für eine andere Versorgung gebaut als diese.',
};
