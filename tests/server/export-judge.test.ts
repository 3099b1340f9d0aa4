import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test, vi } from 'vitest';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import type { ArcRecord } from '../../dashboard/server/store/store.ts';
import { runVerb } from '../../shared/command/door.ts';
import type { Circuit } from '../../shared/protocol/circuit.ts';
import type { Judgement } from '../../shared/protocol/judgement.ts';
import { type About, encodeMessage } from '../../shared/protocol/messages.ts';
import type { Plate } from '../../shared/protocol/plate.ts';
import { Watch } from '../../shared/watch/watch.ts';
import { createPlant, scenarioByName } from '../../simulator/electrics/index.ts';
import { type Built, buildServer } from './built.ts';
import { bay, stamp } from './given.ts';

const folder = mkdtempSync(join(tmpdir(), 'stiffline-export-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** A server that has taken in what the first sensor of a scenario sent, every sample of it. */
async function shopOf(name: string, seconds: number): Promise<{ built: Built; arcs: ArcRecord[] }> {
  const scenario = scenarioByName(name)!;
  const [place] = scenario.bays;
  const { plate, circuit, sensors } = place!;
  const [point] = createPlant(scenario, 1, [sensors[0]!.name]).points;
  const { rateHz, pairs, sensorAt, voltsPerCount, ampsPerCount } = point!.about;
  const scale = Array.from({ length: 2 * pairs }, (_, channel) =>
    channel % 2 === 0 ? voltsPerCount[channel >> 1]! : ampsPerCount[channel >> 1]!,
  );
  const about: About = {
    ...{ v: 1, boot: 1, name: 'bay-1', pairs, rate: rateHz, bits: 16, scale, at: sensorAt },
    ...{ fw: 'test', site: 'harbour-lane' },
  };
  const built = await buildServer(about);
  const { store } = built;
  const stored = [
    store.circuits.add(circuit as Circuit, stamp),
    store.plates.add(plate as Plate, stamp),
  ] as const;
  store.assign(bay, stored[0].id, stored[1].id);
  const ingest = new Ingest({
    ...{ store, floor: new Floor(store, () => 0), link: { publish() {} }, say() {} },
    makeWatch: (setup, events) => new Watch(setup, events),
  });
  ingest.start();
  const n = 1_024;
  const counts = new Int32Array(n * 2 * pairs);
  for (let seq = 1; (seq * n) / rateHz < seconds; seq++) {
    point!.read(counts, n);
    const first = (seq - 1) * n;
    const time = 1.76e15 + Math.round((first * 1e6) / rateHz);
    const wave = { v: 1, boot: 1, seq, first, time, n, lost: 0, flags: 0 } as const;
    const payload = encodeMessage('wave', { ...wave, data: Int16Array.from(counts) });
    ingest.receive('stiffline/v1/harbour-lane/bay-1/wave', payload);
    ingest.flush();
  }
  ingest.stop();
  return { built, arcs: store.arcs({ limit: 50 }).reverse() };
}

async function judge(...words: string[]): Promise<Judgement> {
  const out: string[] = [];
  const take = (text: unknown, done?: unknown) => {
    out.push(String(text));
    if (typeof done === 'function') done();
    return true;
  };
  const stdout = vi.spyOn(process.stdout, 'write').mockImplementation(take);
  try {
    const verbs = { judge: () => import('../../dashboard/commands/judge.ts') };
    await runVerb(verbs, ['judge', ...words, '--json']);
  } finally {
    stdout.mockRestore();
  }
  return JSON.parse(out.join('')) as Judgement;
}

describe.each(['healthy-steel', 'long-thin-cord'])('%s: an arc taken along as a file', (name) => {
  test('is judged as it was judged live, from COMTRADE and from CSV', async () => {
    const { built, arcs } = await shopOf(name, 14);
    const save = async (path: string) => {
      const answer = await built.app.inject(`/api/v1${path}`);
      expect(answer.statusCode).toBe(200);
      const named = /filename="(stiffline-[\w.-]+)"/.exec(
        String(answer.headers['content-disposition']),
      );
      const file = join(folder, named![1]!);
      writeFileSync(file, answer.rawPayload);
      return file;
    };
    const [first] = arcs.filter((arc) => arc.arc.durationS > 1);
    const { id, arc, rateHz } = first!;
    const plate = await save(`/arcs/${id}/plate.json`);
    const circuit = await save(`/arcs/${id}/circuit.json`);
    for (const path of ['recording.cff', 'waveform.csv']) {
      const file = await save(`/arcs/${id}/${path}`);
      const judged = await judge(file, '--plate', plate, '--circuit', circuit);
      expect(judged.recording.rateHz).toBeCloseTo(rateHz, 6);
      expect(judged.arcs).toHaveLength(1);
      const [again] = judged.arcs;
      expect(again!.verdict).toBe(arc.verdict);
      expect(again!.durationS).toBeCloseTo(arc.durationS, 2);
      expect(again!.channels[0]!.minVolts200ms).toBeCloseTo(arc.channels[0]!.minVolts200ms, 1);
      expect(judged.verdict).toBe(arc.verdict);
    }
    await built.close();
  });
});
