import { pairsOf } from './lines.ts';
import type { Bay, Scenario } from './scenario.ts';
import type { Problem } from './schema.ts';

/** What each value by itself cannot tell. */
export function contradictions({ bays }: Scenario): Problem[] {
  const sensors = bays.flatMap((each) => each.sensors.map(({ name }) => name));
  const says = 'is used twice';
  return [
    ...repeats(sensors).map((name) => ({ path: `sensor ${name}`, says })),
    ...repeats(bays.map(({ name }) => name)).map((name) => ({ path: `bay ${name}`, says })),
    ...bays.flatMap((each, at) => contradictionsOf(each, `bays[${at}]`)),
  ];
}

const repeats = (names: string[]): string[] =>
  names.filter((name, at) => names.indexOf(name) !== at);

function contradictionsOf(bay: Bay, path: string): Problem[] {
  const found: Problem[] = [];
  const say = (key: string, says: string) => found.push({ path: `${path}.${key}`, says });
  const lines = pairsOf(bay);
  const threePhase = bay.machine.kind === 'three-phase-rectifier';
  if (threePhase && lines !== 3) say('machine.kind', 'needs "wires": "three-phase"');
  if (threePhase && bay.machine.lines.length > 0) say('machine.lines', 'has no use here');
  for (const [at, each] of [...bay.neighbours, bay.machine].entries()) {
    const key = at < bay.neighbours.length ? `neighbours[${at}].lines` : 'machine.lines';
    if (each.lines.some((line) => line > lines)) say(key, `may name lines 1 to ${lines}`);
    if (each.lines.length === 2 && each.lines[0] === each.lines[1]) say(key, 'names one twice');
  }
  for (const [at, each] of bay.events.entries()) {
    const key = `events[${at}]`;
    if (each.kind === 'neutral-opens' && lines === 1) say(key, 'needs a neutral of its own');
    if (each.kind === 'phase-lost' && each.phase > lines) say(key, `may name 1 to ${lines}`);
  }
  if (bay.work.settings[0]?.fromS !== 0) say('work.settings[0].fromS', 'is to be 0');
  const wires = [
    ['circuit.branch', bay.circuit.branch],
    ['really.branch', bay.really.branch],
    ...bay.circuit.cords.map((each, at) => [`circuit.cords[${at}]`, each] as const),
    ...(bay.really.cords ?? []).map((each, at) => [`really.cords[${at}]`, each] as const),
    ['supply.service', bay.supply.kind === 'utility' ? bay.supply.service : undefined],
  ] as const;
  for (const [key, wire] of wires) {
    if (!wire) continue;
    if ((wire.awg === undefined) === (wire.mm2 === undefined)) say(key, 'wants awg or mm2');
    if (wire.feet === undefined && wire.metres === undefined) say(key, 'wants feet or metres');
    const thin = typeof wire.awg === 'number' && wire.awg > 14;
    if ('metal' in wire && wire.metal === 'aluminium' && thin) say(key, 'is not made of aluminium');
  }
  return found;
}
