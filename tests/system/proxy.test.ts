import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type IncomingHttpHeaders, request, type Server } from 'node:http';
import { type AddressInfo, connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { WebSocket } from 'ws';
import { Program, until } from './program.ts';

/** How a reverse proxy is set up; they differ in nothing else that matters here. */
interface Manners {
  keepHost: boolean;
  marks: boolean;
}

/** A reverse proxy on this machine, in front of `to`: requests and upgrades, as they come. */
async function startProxy(to: URL, { keepHost, marks }: Manners): Promise<Server> {
  const forwarded = (headers: IncomingHttpHeaders, from = '') => ({
    ...headers,
    ...(keepHost ? {} : { host: to.host }),
    ...(marks && {
      // As they do: what was seen is put behind what was told.
      'x-forwarded-for': [headers['x-forwarded-for'], from].flat().filter(Boolean).join(', '),
      'x-forwarded-proto': 'https',
    }),
  });
  const target = { host: to.hostname, port: to.port };
  const server = createServer((asked, answer) => {
    const { method, url: path } = asked;
    const headers = forwarded(asked.headers, asked.socket.remoteAddress);
    const on = request({ ...target, method, path, headers }, (back) => {
      answer.writeHead(back.statusCode!, back.headers);
      back.pipe(answer);
    });
    on.on('error', () => answer.writeHead(502).end());
    asked.pipe(on);
  });
  server.on('upgrade', (asked, socket, head) => {
    const on = connect(Number(to.port), to.hostname, () => {
      const headers = Object.entries(forwarded(asked.headers, asked.socket.remoteAddress));
      const lines = headers.map(([name, value]) => `${name}: ${value}\r\n`);
      on.write(`GET ${asked.url} HTTP/1.1\r\n${lines.join('')}\r\n`);
      on.write(head);
      socket.pipe(on).pipe(socket);
    });
    on.on('error', () => socket.destroy());
    socket.on('error', () => on.destroy());
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  return server;
}

let folder: string;
let shop: Program | null = null;
let proxy: Server | null = null;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'stiffline-proxy-'));
});
afterEach(async () => {
  proxy?.closeAllConnections();
  proxy?.close();
  if (shop) expect(await shop.stop()).toBe(0);
});
afterAll(() => rmSync(folder, { recursive: true }));

const free = async (): Promise<number> => {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  await new Promise((resolve) => server.close(resolve));
  return port;
};

/** The real program, and a proxy in front of it; gives the proxy's port and what was printed. */
async function start(name: string, manners: Manners, ...flags: string[]) {
  const own = await free();
  shop = new Program(
    ...['run', '--no-sensors', '--data', join(folder, name), '--mqtt-port', '0'],
    ...['--http-port', String(own), ...flags],
  );
  const printed = await shop.line();
  const direct = new URL(`http://127.0.0.1:${own}/`);
  proxy = await startProxy(direct, manners);
  const { port } = proxy.address() as AddressInfo;
  return { port, direct, printed };
}

interface Answer {
  status: number;
  text: string;
  cookie: string;
}

/** Asks the proxy as a device does; fetch would not let the Host be chosen. */
const ask = (port: number, path: string, more: Record<string, string> = {}, payload?: object) =>
  new Promise<Answer>((resolve, reject) => {
    const headers = { ...more, ...(payload && { 'content-type': 'application/json' }) };
    const method = payload ? 'POST' : 'GET';
    const asked = request({ host: '127.0.0.1', port, path, method, headers }, async (answer) => {
      let text = '';
      for await (const chunk of answer) text += chunk;
      const cookie = (answer.headers['set-cookie'] ?? []).join('; ');
      resolve({ status: answer.statusCode!, text, cookie });
    });
    asked.on('error', reject);
    asked.end(payload && JSON.stringify(payload));
  });

const lead = { name: 'Mallory', role: 'lead', pin: '1111' };
const api = (path: string) => `/api/v1${path}`;
const codeOf = () => /access code (\d{4}-\d{4})/.exec(shop!.err)![1]!;

it('lets nobody in through a proxy that is not declared', async () => {
  const { port, direct } = await start('plain', { keepHost: false, marks: true });
  const forged = { 'x-forwarded-for': '127.0.0.1' };
  for (const headers of [{}, forged]) {
    expect(await ask(port, api('/me'), headers)).toMatchObject({ status: 401 });
    expect((await ask(port, api('/people'), headers, lead)).status).toBe(401);
    expect((await ask(port, api('/audit'), headers)).status).toBe(401);
    expect((await ask(port, '/metrics', headers)).status).toBe(401);
  }
  await until(() => /not declared.*--trusted-proxy 127\.0\.0\.1/.test(shop!.err), 5_000, shop!.err);
  expect(shop!.err.match(/not declared/g)).toHaveLength(1);
  // At this machine all is as before.
  const own = await ask(Number(direct.port), api('/me'));
  expect(JSON.parse(own.text)).toMatchObject({ role: 'lead', own: true, people: false });
});

it('lets a declared proxy’s devices look with the code, and no more', async () => {
  const flags = ['--trusted-proxy', '127.0.0.1'];
  const { port } = await start('declared', { keepHost: false, marks: true }, ...flags);
  expect((await ask(port, api('/me'))).status).toBe(401);
  expect((await ask(port, api('/people'), {}, lead)).status).toBe(401);
  const { status, cookie } = await ask(port, api('/access'), {}, { code: codeOf() });
  expect(status).toBe(204);
  expect(cookie).not.toMatch(/secure/i);
  const me = await ask(port, api('/me'), { cookie });
  expect(JSON.parse(me.text)).toMatchObject({ role: 'watch', own: false });
  expect((await ask(port, api('/people'), { cookie }, lead)).status).toBe(401);
  expect((await ask(port, api('/people'), { cookie })).text).toBe('[]');
});

it('goes by its public URL, with the Host kept: page and live feed', async () => {
  const publicUrl = 'https://shop.example:8443/';
  const flags = ['--trusted-proxy', '127.0.0.1,::1', '--public-url', publicUrl];
  const manners = { keepHost: true, marks: true };
  const { port, printed, direct } = await start('public', manners, ...flags);
  expect(printed).toBe(publicUrl);
  expect(shop!.err).toContain(`${publicUrl} access code`);
  expect(shop!.err).toContain(direct.href);
  const host = 'shop.example:8443';
  const origin = 'https://shop.example:8443';
  expect((await ask(port, '/', { host: 'evil.example' })).status).toBe(421);

  const page = await ask(port, '/', { host });
  expect(page.status).toBe(200);
  const script = /src="([^"]+\.js)"/.exec(page.text)![1]!;
  expect((await ask(port, new URL(script, publicUrl).pathname, { host })).status).toBe(200);

  expect((await ask(port, api('/me'), { host })).status).toBe(401);
  const code = { code: codeOf() };
  const elsewhere = { host, origin: 'https://evil.example' };
  expect((await ask(port, api('/access'), elsewhere, code)).status).toBe(403);
  const entered = await ask(port, api('/access'), { host, origin }, code);
  expect(entered).toMatchObject({ status: 204 });
  expect(entered.cookie).toMatch(/; Secure/);
  const cookie = entered.cookie.split(';')[0]!;
  const me = await ask(port, api('/me'), { host, cookie });
  expect(JSON.parse(me.text)).toMatchObject({ role: 'watch', own: false });
  expect((await ask(port, api('/people'), { host, origin, cookie }, lead)).status).toBe(401);

  const feed = (headers: Record<string, string>, from = origin) =>
    new Promise<string>((resolve) => {
      const url = `ws://127.0.0.1:${port}${api('/live')}`;
      const socket = new WebSocket(url, { headers, origin: from });
      socket.once('message', (data) => {
        resolve((JSON.parse(String(data)) as { kind: string }).kind);
        socket.close();
      });
      socket.once('error', (error) => resolve(error.message));
    });
  expect(await feed({ host, cookie })).toBe('hello');
  expect(await feed({ host })).toContain('401');
  expect(await feed({ host, cookie }, 'https://evil.example')).toContain('403');
});

it('makes nobody a lead behind a proxy that adds nothing, but keeps the Host', async () => {
  const flags = ['--public-url', 'https://shop.example'];
  const { port } = await start('silent', { keepHost: true, marks: false }, ...flags);
  const host = 'shop.example';
  expect((await ask(port, api('/me'), { host })).status).toBe(401);
  expect((await ask(port, api('/people'), { host }, lead)).status).toBe(401);
});

it('says in one line what is wrong with an address', async () => {
  shop = null;
  proxy = null;
  for (const verb of ['run', 'serve']) {
    const wrong = new Program(verb, '--trusted-proxy', 'localhost', '--data', join(folder, 'none'));
    expect(await wrong.ended()).toBe(2);
    expect(wrong.err).toMatch(/^stiffline: --trusted-proxy "localhost": an address .*\n$/);
    const url = new Program(verb, '--public-url', 'shop.example', '--data', join(folder, 'none'));
    expect(await url.ended()).toBe(2);
    expect(url.err).toMatch(/^stiffline: --public-url "shop\.example": .*\n$/);
  }
});
