/** Fields of plates, circuits, feeders, people and settings; others keep their name. */
const names: Record<string, string> = {
  name: 'Name',
  volts: 'Nennspannung',
  phases: 'Phasen',
  hertz: 'Hertz',
  breakerAmps: 'Leitungsschutz, A',
  receptacleAmps: 'Steckdose, A',
  dedicated: 'eigener Stromkreis',
  branch: 'Leitung',
  conductor: 'Leiter',
  cords: 'Verlängerung',
  awg: 'AWG',
  mm2: 'mm²',
  feet: 'ft',
  metres: 'm',
  metal: 'Metall',
  sensorAt: 'Sensor',
  supply: 'Versorgung',
  ratings: 'Ausgang',
  pulse: 'Puls',
  wireInches: 'Draht, Zoll',
  processes: 'Verfahren',
  guns: 'Brenner',
  circuits: 'Stromkreise',
  atOnce: 'zugleich',
  U1: 'U₁',
  I1max: 'I₁max',
  I1eff: 'I₁eff',
  U2: 'U₂',
  I2: 'I₂',
  circuit: 'Stromkreis',
  plate: 'Leistungsschild',
  role: 'darf',
  disabled: 'nicht mehr da',
  units: 'Einheiten',
  language: 'Sprache',
  timeZone: 'Zeitzone',
};

/** `supply[0].I1max` as "Versorgung 1 I₁max". */
export const fieldName = (path: string): string =>
  path
    .split('.')
    .map((part) => {
      const [key = '', place] = part.split(/[[\]]/);
      return (names[key] ?? key) + (place === undefined ? '' : ` ${Number(place) + 1}`);
    })
    .join(' ');
