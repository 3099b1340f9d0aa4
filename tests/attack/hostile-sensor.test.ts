import type { MqttClient } from 'mqtt';
import { afterEach, describe, expect, it } from 'vitest';
import type { WebSocket } from 'ws';
import type { Sensor } from '../../shared/protocol/http.ts';
import {
  formatTopic,
  type SensorKind,
  sensorId,
  sensorKinds,
} from '../../shared/protocol/topics.ts';
import { toWire } from '../../shared/protocol/wire.ts';
import { get, until } from '../system/program.ts';
import { attacksOn, type Loose, mutated, randomBytes, seeded, sound } from './hostile.ts';
import { allArcs, counted, good, type Layout, Rig, refusedBySchema, site, Witness } from './rig.ts';

/** Not named as a flag is: the programs under attack would take it for one of theirs. */
const seed = Number(process.env.ATTACK_SEED ?? 1);
/** Of chance, for each kind. */
const randoms = 150;
/** A bead is seconds long; at this pace an attack of a quarter of a minute sees several. */
const speed = '4';
const cycleMs = 1_000 / 60;

let rig: Rig;
afterEach(() => rig.close());

/** One sensor for each kind, so that one attack does not hide the next. */
const named = (kind: SensorKind) => `hostile-${kind}`;

class Hostile {
  /** Payloads that the schema refuses, by kind. */
  readonly refused = new Map<SensorKind, number>();
  /** Number of the last block of the sensor that sends blocks. */
  newest = 0;
  readonly #clients = new Map<SensorKind, MqttClient>();
  #seq = 0;

  async enter(): Promise<void> {
    for (const kind of sensorKinds) {
      const client = await rig.client(sensorId(site, named(kind)));
      this.#clients.set(kind, client);
      await client.publishAsync(
        formatTopic(site, named(kind), 'about'),
        Buffer.from(toWire({ ...sound.about, name: named(kind) })),
        { qos: 1, retain: true },
      );
    }
  }

  /** Numbered kinds go on counting, so that what is sound in them gets as far as the judge. */
  async send(kind: SensorKind, message: Loose, field: string): Promise<void> {
    if (!('seq' in message) || field === 'seq') return this.bytes(kind, toWire(message));
    this.#seq++;
    const first = field === 'first' || kind === 'arc' ? {} : { first: 8 * this.#seq };
    return this.bytes(kind, toWire({ ...message, ...first, seq: this.#seq }));
  }

  async bytes(kind: SensorKind, payload: Uint8Array): Promise<void> {
    // One that is longer than a packet may be ends the connection: that is the broker's to refuse.
    if (payload.length > 30_000) return;
    if (refusedBySchema(kind, payload)) this.refused.set(kind, (this.refused.get(kind) ?? 0) + 1);
    const topic = formatTopic(site, named(kind), kind);
    await this.#clients.get(kind)!.publishAsync(topic, Buffer.from(payload), { qos: 1 });
  }

  /** One more block, sound, after all that was not; gives its number. */
  async block(): Promise<number> {
    await this.send('wave', sound.wave, 'none');
    return this.#seq;
  }

  /** The next kind's sensor counts from one. */
  countAnew(): void {
    this.#seq = 0;
  }
}

async function attack(hostile: Hostile): Promise<void> {
  const next = seeded(seed);
  for (const kind of sensorKinds) {
    hostile.countAnew();
    const sent = (async () => {
      for (const { message, field } of attacksOn(kind)) await hostile.send(kind, message, field);
      const payload = toWire(sound[kind]);
      for (let n = 0; n < randoms; n++) await hostile.bytes(kind, randomBytes(next, payload));
      for (let n = 0; n < randoms; n++) await hostile.bytes(kind, mutated(next, payload));
      if (kind === 'wave') hostile.newest = await hostile.block();
      return true;
    })();
    const lives = until(() => rig.ended.some((status) => status !== null), 60_000).then(
      () => false,
      () => true,
    );
    expect(await Promise.race([sent, lives]), `${kind}: ${rig.said.slice(-2_000)}`).toBe(true);
  }
}

/** All that the good sensor told is stored once, and it was told so. */
async function goodIsWhole(witness: Witness): Promise<void> {
  const seen = witness.arcs;
  const copies = async () => {
    const stored = (await allArcs(rig.url)).filter(({ sensor }) => sensor === sensorId(site, good));
    return seen.map(
      ({ startedUs }) =>
        stored.filter((arc) => Math.abs(Date.parse(arc.startedAt) - startedUs / 1e3) < cycleMs)
          .length,
    );
  };
  await until(async () => !(await copies()).includes(0), 30_000, rig.said);
  expect(await copies()).toEqual(seen.map(() => 1));
  await until(() => witness.kept >= witness.newest, 30_000, rig.said);
}

async function answers(socket: WebSocket): Promise<void> {
  expect(rig.ended, rig.said.slice(-2_000)).toEqual(rig.programs.map(() => null));
  expect((await fetch(new URL('readyz', rig.url))).status).toBe(200);
  const sensors = await get<Sensor[]>(rig.url, 'api/v1/sensors');
  expect(sensors.map(({ id }) => id).sort()).toEqual(
    [good, ...sensorKinds.map(named)].map((name) => sensorId(site, name)).sort(),
  );
  expect(socket.readyState).toBe(socket.OPEN);
  const beats = rig.heard.filter((kind) => kind === 'beat').length;
  await until(() => rig.heard.filter((kind) => kind === 'beat').length > beats, 20_000, rig.said);
}

describe.each<Layout>(['run', 'broker and serve'])('a hostile sensor against %s', (layout) => {
  it(`stops neither program nor storage; seed ${seed}`, async () => {
    rig = new Rig();
    await rig.start(layout);
    const witness = new Witness();
    await witness.listen(rig, good);
    const beside = new Witness();
    await beside.listen(rig, named('wave'), ['keep']);
    const sensor = rig.sensor('--speed', speed);
    const socket = await rig.page();
    await until(() => witness.arcs.length >= 1, 60_000, sensor.err);
    const hostile = new Hostile();
    await hostile.enter();
    await attack(hostile);
    const during = witness.arcs.length;
    await until(() => witness.arcs.length >= during + 2, 60_000, sensor.err);
    await answers(socket);
    expect(await sensor.stop('SIGTERM'), sensor.err).toBe(0);
    await goodIsWhole(witness);
    const metrics = await (await fetch(new URL('metrics', rig.url))).text();
    for (const kind of sensorKinds) {
      const labels = [`sensor="${sensorId(site, named(kind))}"`, `kind="${kind}"`];
      const refused = counted(metrics, 'refused_total', ...labels);
      expect(refused, kind).toBeGreaterThanOrEqual(hostile.refused.get(kind)!);
    }
    // Its bad records were put aside, so that it need not send them for ever.
    expect(counted(metrics, 'quarantined_total')).toBeGreaterThan(100);
    await until(() => beside.kept >= hostile.newest, 20_000, String(beside.kept));
    // What of it was stored does not stop the next start either.
    await rig.restart(layout);
    expect((await fetch(new URL('readyz', rig.url))).status).toBe(200);
    expect(await get<Sensor[]>(rig.url, 'api/v1/sensors')).toHaveLength(1 + sensorKinds.length);
    await goodIsWhole(witness);
  });
});

describe.each<Layout>(['run', 'broker and serve'])('the first two cases against %s', (layout) => {
  const nan = new Float32Array(4).fill(Number.NaN);
  it.each<[string, Loose]>([
    ['end', { end: new Float64Array(4).fill(Number.NaN) }],
    ['hz', { hz: nan }],
    ['volts', { volts: [nan] }],
  ])('rows whose %s holds NaN', async (_, more) => {
    rig = new Rig();
    await rig.start(layout);
    const socket = await rig.page();
    const hostile = new Hostile();
    await hostile.enter();
    await hostile.bytes('rows', toWire({ ...sound.rows, ...more }));
    await hostile.bytes('wave', toWire(sound.wave));
    await new Promise((resolve) => setTimeout(resolve, 500));
    expect(rig.ended, rig.said.slice(-2_000)).toEqual(rig.programs.map(() => null));
    const metrics = await (await fetch(new URL('metrics', rig.url))).text();
    expect(counted(metrics, 'blocks_total')).toBe(1);
    expect(counted(metrics, 'refused_total', 'kind="rows"')).toBe(1);
    await get(rig.url, 'api/v1/sensors');
    expect(socket.readyState).toBe(socket.OPEN);
  });
});
