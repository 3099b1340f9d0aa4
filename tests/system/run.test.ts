import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import type { ArcDetail, ArcPage, RowColumns, Sensor } from '../../shared/protocol/http.ts';
import type { LiveMessage } from '../../shared/protocol/live.ts';
import { decodeRows, decodeWaveform } from '../../shared/protocol/live-rows.ts';
import { get, Program, until } from './program.ts';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-run-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

const free = ['--http-port', '0', '--mqtt-port', '0'];

describe('stiffline run', () => {
  let run: Program;
  let url: string;
  beforeAll(async () => {
    run = new Program('run', ...free, '--data', join(folder, 'data'));
    url = await run.line();
  });
  afterAll(async () => {
    await run.stop('SIGKILL');
  });

  it('prints one URL of this machine', () => {
    expect(run.out).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/\n$/);
  });

  it('has a judged arc within ten seconds of that line, and its every figure', async () => {
    const page = () => get<ArcPage>(url, 'api/v1/arcs?limit=1');
    await until(async () => (await page()).arcs.length > 0, 10_000, run.err);
    const [{ id, sensor }] = (await page()).arcs as [ArcPage['arcs'][number]];
    const detail = await get<ArcDetail>(url, `api/v1/arcs/${id}`);
    expect(detail.arc.findings.length).toBeGreaterThan(0);
    expect(detail.plate).not.toBeNull();
    const rows = await get<RowColumns>(url, `api/v1/arcs/${id}/rows`);
    expect(Math.max(...rows.amps[0]!.map(Number))).toBeGreaterThan(5);
    const body = await fetch(new URL(`api/v1/arcs/${id}/waveform`, url));
    const wave = decodeWaveform(await body.arrayBuffer())!;
    // The rows and the samples tell the same current in the midst of the arc.
    const at = Math.round((detail.arc.durationS / 2 - wave.startS) * wave.rateHz);
    const some = wave.amps[0]!.subarray(at - 1024, at + 1024);
    const rms = Math.sqrt(some.reduce((sum, amps) => sum + amps * amps, 0) / some.length);
    expect(rms).toBeGreaterThan(0.7 * detail.arc.channels[0]!.meanAmps);
    expect(rms).toBeLessThan(1.3 * detail.arc.channels[0]!.meanAmps);
    const known = await get<Sensor>(url, `api/v1/sensors/${sensor}`);
    expect(known.circuit).not.toBeNull();
  });

  it('feeds a page live: the floor first, then rows and arcs, serials without a gap', async () => {
    const socket = new WebSocket(new URL('api/v1/live', url.replace('http', 'ws')));
    socket.binaryType = 'arraybuffer';
    const serials: number[] = [];
    const kinds = new Set<string>();
    socket.addEventListener('message', ({ data }) => {
      const frame =
        typeof data === 'string'
          ? (JSON.parse(data) as LiveMessage)
          : decodeRows(data as unknown as ArrayBuffer)!;
      serials.push(frame.serial);
      kinds.add('kind' in frame ? frame.kind : 'rows');
    });
    const wanted = ['hello', 'beat', 'sensor', 'arc-began', 'arc-goes-on', 'arc-ended', 'rows'];
    await until(() => wanted.every((kind) => kinds.has(kind)), 30_000, run.err);
    socket.close();
    for (let at = 1; at < serials.length; at++) expect(serials[at]).toBe(serials[at - 1]! + 1);
  });

  it('refuses no client of its own, and tells so', async () => {
    const metrics = await (await fetch(new URL('metrics', url))).text();
    expect(metrics).toMatch(/^stiffline_sensors_online 5$/m);
    expect(metrics).not.toMatch(/^stiffline_broker_refused_total\{why="\w+"\} [1-9]/m);
  });

  it('names a port in use in one line, and ends with 1', async () => {
    const port = new URL(url).port;
    const second = new Program(
      ...['run', '--http-port', port, '--mqtt-port', '0', '--no-sensors'],
      ...['--data', join(folder, 'other')],
    );
    expect(await second.ended()).toBe(1);
    expect(second.err).toMatch(new RegExp(`^stiffline: HTTP port ${port} .* is in use.*\\n$`));
    expect(second.out).toBe('');
  });

  it('ends cleanly within ten seconds of SIGTERM', async () => {
    const asked = performance.now();
    expect(await run.stop('SIGTERM')).toBe(0);
    expect(performance.now() - asked).toBeLessThan(10_000);
  });

  it('starts again on the same folder, with all that was there, and ends on Ctrl-C', async () => {
    const again = new Program('run', ...free, '--no-sensors', '--data', join(folder, 'data'));
    const page = await get<ArcPage>(await again.line(), 'api/v1/arcs');
    expect(page.arcs.length).toBeGreaterThan(0);
    expect(await again.stop('SIGINT')).toBe(0);
  });
});

describe('stiffline run, a port of MQTT that is taken', () => {
  let taken: Server;
  beforeAll(async () => {
    taken = createServer();
    await new Promise<void>((resolve) => taken.listen(0, '127.0.0.1', resolve));
  });
  afterAll(() => taken.close());

  it('is named in one line', async () => {
    const { port } = taken.address() as { port: number };
    const run = new Program(
      ...['run', '--http-port', '0', '--mqtt-port', String(port), '--no-sensors'],
      ...['--data', join(folder, 'third')],
    );
    expect(await run.ended()).toBe(1);
    expect(run.err).toMatch(new RegExp(`^stiffline: MQTT port ${port} .* is in use.*\\n$`));
  });
});
