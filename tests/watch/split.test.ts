import { describe, expect, test } from 'vitest';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { behindOhms } from '../../shared/rules/cord-drop.ts';
import { splitDrop } from '../../shared/rules/split.ts';
import type { WatchedArc } from '../../shared/watch/contract.ts';
import { settle } from '../../shared/watch/settle.ts';
import { scenarioByName } from '../../simulator/electrics/index.ts';
import { judgeBothEnds } from './both-ends.ts';

interface Json {
  bays: { circuit: Circuit; plate: Plate; machine: { idleWatts: number } }[];
}

/** The demonstration's first bay alone, with another cord. */
function bayWith(cord: object, change: (json: Json) => void = () => {}): Json {
  const json = JSON.parse(JSON.stringify(scenarioByName('harbour-lane'))) as Json;
  json.bays.splice(1);
  json.bays[0]!.circuit.cords = [cord];
  change(json);
  return json;
}

const seen = ({ arc, supply }: WatchedArc) => ({
  ...{ startS: arc.startS, endS: arc.endS, arc, supply },
});

describe('a bay with a sensor at each end', () => {
  test.each([
    { name: '75 ft of AWG 16', cord: { awg: 16, feet: 75 }, seed: 1 },
    { name: '25 ft of AWG 12', cord: { awg: 12, feet: 25 }, seed: 2 },
    { name: '15 m of 2.5 mm²', cord: { mm2: 2.5, metres: 15 }, seed: 3 },
  ])('$name: wiring and cord took what their ohms say', ({ cord, seed }) => {
    const json = bayWith(cord);
    const { circuit, plate, machine } = json.bays[0]!;
    const [outlet, atMachine] = judgeBothEnds(json, seed, 20);
    const setting = settle(
      {
        ...{ rateHz: 10_240, pairs: 1, startedAt: null, nominalVolts: 120, nominalHertz: 60 },
        ...{ plate, circuit: { ...circuit, sensorAt: 'machine' } },
      },
      ...([{ volts: [121], carries: null }, 60] as const),
    );
    const [building, whole] = [outlet!, atMachine!].map(({ truth }) => truth.supply[0]!.ohmsR);
    const cordOhms = whole! - building!;
    expect(atMachine!.arcs.length).toBe(outlet!.arcs.length);
    expect(atMachine!.arcs.length).toBeGreaterThan(2);
    for (const [index, at] of atMachine!.arcs.entries()) {
      const by = outlet!.arcs[index]!;
      const { doubt, atArc, atFullLoad } = splitDrop(setting, seen(by), seen(at));
      expect(doubt).toBeNull();
      const { meanVolts, meanAmps, meanWatts } = by.arc.channels[0]!;
      // Against what the idle machine's own current takes: the split counts from there.
      const idle = (ohms: number) => (ohms * machine.idleWatts) / atArc!.openVolts;
      const cordTook = meanVolts - behindOhms(meanVolts, meanAmps, meanWatts, cordOhms);
      const upstream = behindOhms(meanVolts, meanAmps, -meanWatts, building!);
      expect(inside(cordTook - idle(cordOhms), atArc!.cord.volts95)).toBe(true);
      expect(inside(upstream - meanVolts - idle(building!), atArc!.building.volts95)).toBe(true);
      const part = cordOhms / whole!;
      const { cord: ofCord, building: ofBuilding } = atFullLoad!;
      const all = ofCord.volts + ofBuilding.volts;
      expect(ofCord.volts / all).toBeGreaterThan(part - 0.04);
      expect(ofCord.volts / all).toBeLessThan(part + 0.04);
    }
  });

  test('two bays’ sensors taken for one circuit’s are found out', () => {
    const mine = judgeBothEnds(bayWith({ awg: 16, feet: 75 }), 1, 12);
    const other = judgeBothEnds(bayWith({ awg: 12, feet: 25 }), 5, 12);
    const setting = settle(
      {
        ...{ rateHz: 10_240, pairs: 1, startedAt: null, nominalVolts: 120, nominalHertz: 60 },
        ...{ plate: null, circuit: null },
      },
      ...([{ volts: [121], carries: null }, 60] as const),
    );
    for (const at of other[1]!.arcs)
      for (const by of mine[0]!.arcs)
        expect(splitDrop(setting, seen(by), seen(at)).doubt).not.toBeNull();
  });
});

const inside = (value: number, [low, high]: [number, number]) => low <= value && value <= high;
