import { Counter, collectDefaultMetrics, Gauge, Registry } from 'prom-client';
import type { Parts } from './http/routes.ts';

/** What `/metrics` tells, read from the parts' own counts when it is asked for. */
export function metrics(
  { ingest, floor, store }: Parts,
  brokerRefused: () => Record<string, number>,
) {
  const registry = new Registry();
  collectDefaultMetrics({ register: registry });
  const registers = [registry];
  const gauge = (name: string, help: string, read: () => number) =>
    new Gauge({
      ...{ name: `stiffline_${name}`, help, registers },
      collect() {
        this.set(read());
      },
    });
  const counter = (name: string, help: string, read: () => number) =>
    new Counter({
      ...{ name: `stiffline_${name}`, help, registers },
      collect() {
        this.reset();
        this.inc(read());
      },
    });
  const labelled = (name: string, help: string, label: string, read: () => object) =>
    new Counter({
      ...{ name: `stiffline_${name}`, help, registers, labelNames: [label] },
      collect() {
        this.reset();
        for (const [value, count] of Object.entries(read()))
          this.inc({ [label]: value }, Number(count));
      },
    });
  const { counts } = ingest;
  counter('messages_total', 'Messages received from sensors', () => counts.messages);
  counter('message_bytes_total', 'Payload bytes received', () => counts.bytes);
  counter('redelivered_total', 'Numbered messages that were stored before', () => counts.known);
  counter('blocks_total', 'Blocks of samples stored', () => counts.blocks);
  counter('arcs_total', 'Arcs stored', () => counts.arcs);
  counter('commits_total', 'Transactions that held', () => counts.commits);
  counter('commit_seconds_total', 'Time in commits', () => counts.commitMs / 1_000);
  labelled('faults_total', 'Messages refused', 'fault', () => counts.faults);
  new Counter({
    ...{ name: 'stiffline_refused_total', registers, labelNames: ['sensor', 'kind', 'fault'] },
    help: 'Messages and records refused, by sensor and kind',
    collect() {
      this.reset();
      for (const { count, ...labels } of ingest.faults.named()) this.inc({ ...labels }, count);
    },
  });
  counter('quarantined_total', 'Records put aside since the start', () => counts.quarantined);
  gauge('quarantined', 'Records put aside that are on disk', () => store.quarantine.count());
  gauge('ready', 'Whether what comes is stored: 1 or 0', () => (ingest.ready ? 1 : 0));
  labelled('broker_refused_total', 'Clients and packets turned away', 'why', brokerRefused);
  gauge('sensors', 'Sensors known', () => floor.sensors().length);
  gauge(
    'sensors_online',
    'Sensors that are there',
    () => floor.sensors().filter(({ state }) => state === 'online' || state === 'arc').length,
  );
  gauge('pages', 'Pages on the live feed', () => floor.hub.pages);
  counter('live_frames_total', 'Frames sent to pages', () => floor.hub.counts.frames);
  counter('live_left_out_total', 'Row frames slow pages missed', () => floor.hub.counts.leftOut);
  counter('live_cut_total', 'Pages cut for lagging', () => floor.hub.counts.cut);
  return registry;
}
