import { connect } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { afterEach, describe, expect, it, test } from 'vitest';
import { WebSocket } from 'ws';
import { buildApp } from '../../dashboard/server/app.ts';
import { Access } from '../../dashboard/server/http/access.ts';
import { Proxies } from '../../dashboard/server/http/proxies.ts';
import { Ingest } from '../../dashboard/server/ingest/ingest.ts';
import { Floor } from '../../dashboard/server/live/floor.ts';
import { personCookie, tokenHash } from '../../dashboard/server/people/sessions.ts';
import { MemoryStore } from '../../dashboard/server/store/memory-store.ts';
import type { Problem } from '../../shared/protocol/http.ts';
import type { AuditPage, Me } from '../../shared/protocol/http-people.ts';
import { PlainWatch } from './given.ts';

let app: FastifyInstance;
let access: Access;
let ingest: Ingest;
let store: MemoryStore;
let said: string[];

interface Setup {
  trusted?: string[];
  publicUrl?: string;
  needsCode?: boolean;
}

async function build({ trusted = [], publicUrl, needsCode = true }: Setup = {}): Promise<void> {
  store = new MemoryStore();
  said = [];
  const floor = new Floor(store, () => 0);
  const makeWatch = (...of: ConstructorParameters<typeof PlainWatch>) => new PlainWatch(...of);
  ingest = new Ingest({ store, floor, link: { publish: () => {} }, makeWatch, say: () => {} });
  const proxies = new Proxies(trusted, publicUrl, (line) => said.push(line));
  access = new Access(needsCode, Date.now, proxies);
  const parts = { store, floor, ingest, access };
  app = await buildApp({ ...parts, version: '0', webRoot: 'no-such-folder' });
}
afterEach(async () => {
  ingest.stop();
  await app.close();
});

type Headers = Record<string, string>;
type Asked = { remoteAddress?: string; headers?: Headers };

async function me({ remoteAddress = '127.0.0.1', headers = {} }: Asked) {
  const answer = await app.inject({ url: '/api/v1/me', remoteAddress, headers });
  const is = answer.json<Me & Problem>();
  return answer.statusCode === 200 ? { role: is.role, own: is.own } : is.code;
}
const lead = { name: 'Lea', role: 'lead', pin: '1111' };
async function addLead({ remoteAddress = '127.0.0.1', headers = {} }: Asked): Promise<number> {
  const asked = { method: 'POST', url: '/api/v1/people', payload: lead } as const;
  return (await app.inject({ ...asked, remoteAddress, headers })).statusCode;
}
async function enter({ remoteAddress = '127.0.0.1', headers = {} }: Asked): Promise<Headers> {
  const payload = { code: access.code! };
  const asked = { method: 'POST', url: '/api/v1/access', payload } as const;
  const answer = await app.inject({ ...asked, remoteAddress, headers });
  expect(answer.statusCode).toBe(204);
  return { cookie: answer.cookies.map(({ name, value }) => `${name}=${value}`).join('; ') };
}

/** What proxies add, by the standards and by common practice. */
const marks: Headers[] = [
  { forwarded: 'for=192.0.2.7;proto=https' },
  { forwarded: 'for=127.0.0.1' },
  { via: '1.1 front' },
  { 'cdn-loop': 'front.example' },
  { 'x-forwarded-for': '192.0.2.7' },
  { 'x-forwarded-for': '127.0.0.1' },
  { 'x-forwarded-for': '::1, 127.0.0.1' },
  { 'x-forwarded-for': '' },
  { 'x-forwarded-host': 'localhost' },
  { 'x-forwarded-proto': 'http' },
  { 'x-forwarded-port': '443' },
  { 'x-forwarded-server': 'front' },
  { 'x-forwarded-user': 'lea' },
  { 'x-forwarded': 'for=127.0.0.1' },
  { 'x-real-ip': '127.0.0.1' },
  { 'x-real-port': '50000' },
  { 'x-client-ip': '127.0.0.1' },
  { 'x-cluster-client-ip': '127.0.0.1' },
  { 'true-client-ip': '127.0.0.1' },
  { 'a-vendors-connecting-ip': '127.0.0.1' },
  { 'x-remote-addr': '127.0.0.1' },
  { 'x-original-for': '127.0.0.1:50000' },
  { 'x-original-host': 'localhost' },
  { 'x-url-scheme': 'https' },
  { 'x-scheme': 'https' },
  { 'front-end-https': 'on' },
];
const addresses = ['127.0.0.1', '127.8.8.8', '::1', '::ffff:127.0.0.1', '192.0.2.9'];
const declarations: Setup[] = [
  {},
  { trusted: ['127.0.0.1', '::1'] },
  { trusted: ['127.0.0.0/8', '::1/128', '192.0.2.0/24'], publicUrl: 'https://shop.example' },
];

describe('a request that any proxy has marked', () => {
  test.each(declarations)('is never of this machine, whoever is declared: %j', async (setup) => {
    await build(setup);
    for (const headers of marks)
      for (const remoteAddress of addresses) {
        const asked = { remoteAddress, headers };
        expect([asked, await me(asked)]).toEqual([asked, 'access-code-needed']);
        expect([asked, await addLead(asked)]).toEqual([asked, 401]);
      }
    // With the code it looks, and changes nothing: nobody is named, and it might be anybody.
    for (const remoteAddress of addresses) {
      const cookie = await enter({ remoteAddress });
      for (const mark of marks) {
        const asked = { remoteAddress, headers: { ...mark, ...cookie } };
        expect([asked, await me(asked)]).toEqual([asked, { role: 'watch', own: false }]);
        expect([asked, await addLead(asked)]).toEqual([asked, 401]);
      }
    }
    expect(store.people.list()).toEqual([]);
  });

  it('is refused for good where no code was printed', async () => {
    await build({ needsCode: false });
    const answer = await app.inject({ url: '/api/v1/me', headers: { via: '1.1 front' } });
    expect(answer.statusCode).toBe(401);
    expect(answer.json<Problem>().detail).toContain('--trusted-proxy');
    expect((await app.inject({ url: '/metrics', headers: { via: 'x' } })).statusCode).toBe(401);
    expect(await me({})).toEqual({ role: 'lead', own: true });
  });

  it('stays a watcher when it signs out, as long as nobody is named', async () => {
    await build({ trusted: ['127.0.0.1'] });
    const mark = { 'x-forwarded-for': '192.0.2.7' };
    const headers = { ...mark, ...(await enter({ headers: mark })) };
    const answer = await app.inject({ method: 'DELETE', url: '/api/v1/me', headers });
    expect(answer.json()).toMatchObject({ role: 'watch', own: false, people: false });
  });

  it('from a proxy that is not declared is told once, with what would declare it', async () => {
    await build({ trusted: ['192.0.2.9'] });
    const headers = { 'x-forwarded-for': '192.0.2.7' };
    await me({ remoteAddress: '192.0.2.9', headers });
    expect(said).toEqual([]);
    await me({ headers });
    await me({ headers });
    expect(said).toHaveLength(1);
    expect(said[0]).toMatch(/127\.0\.0\.1.*x-forwarded-for.*--trusted-proxy 127\.0\.0\.1/);
  });
});

describe('without a mark', () => {
  test.each(declarations)(
    'this machine is itself, and other devices are not: %j',
    async (setup) => {
      await build(setup);
      for (const remoteAddress of addresses.slice(0, 4))
        for (const host of ['localhost', 'localhost:8080', '127.0.0.1:8080', '[::1]:8080'])
          expect(await me({ remoteAddress, headers: { host } })).toEqual({
            role: 'lead',
            own: true,
          });
      expect(await me({ remoteAddress: '192.0.2.9' })).toBe('access-code-needed');
    },
  );

  it('a browser adds much that is no mark of a proxy', async () => {
    await build();
    const headers = {
      ...{ accept: '*/*', 'accept-language': 'en', 'cache-control': 'no-cache' },
      ...{ dnt: '1', 'sec-fetch-site': 'same-origin', 'upgrade-insecure-requests': '1' },
      ...{ 'user-agent': 'x', 'if-none-match': '"x"', referer: 'http://localhost/' },
      ...{ host: 'localhost:8080', origin: 'http://localhost:8080', 'x-requested-with': 'page' },
    };
    expect(await me({ headers })).toEqual({ role: 'lead', own: true });
  });

  it('a request that names the public host, or whose page does, came through a proxy', async () => {
    await build({ publicUrl: 'https://shop.example' });
    expect(await me({ headers: { host: 'shop.example' } })).toBe('access-code-needed');
    const origin = 'https://shop.example';
    const headers = { host: '127.0.0.1:8080', origin };
    expect(await me({ headers })).toBe('access-code-needed');
    expect(await addLead({ headers })).toBe(401);
  });

  it('HTTP/1.0 is spoken by proxies as installed, and by no browser', async () => {
    await build();
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as { port: number };
    const status = async (version: string, host = 'host: 127.0.0.1\r\n') => {
      const socket = connect(port, '127.0.0.1');
      socket.write(`GET /api/v1/me HTTP/${version}\r\n${host}connection: close\r\n\r\n`);
      let text = '';
      for await (const chunk of socket) text += chunk;
      return text.split(' ')[1];
    };
    expect([await status('1.1'), await status('1.0')]).toEqual(['200', '401']);
    expect(await status('1.0', '')).toBe('421');
  });
});

describe('the device behind a declared proxy', () => {
  const proxy = '198.51.100.1';
  const device = async (trusted: string[], remoteAddress: string, chain: string) => {
    await build({ trusted });
    const headers = { 'x-forwarded-for': chain };
    const cookie = await enter({ remoteAddress, headers });
    store.people.add({ name: 'Lea', role: 'lead', pin: '' });
    store.people.begin({ hash: tokenHash('lea'), person: 1, endsMs: Date.now() + 60_000 }, 0, 9);
    const jar = { ...headers, cookie: `${cookie.cookie}; ${personCookie}=lea` };
    const adding = { method: 'POST', url: '/api/v1/circuits', payload: circuit } as const;
    const answer = await app.inject({ ...adding, remoteAddress, headers: jar });
    expect(answer.statusCode).toBe(201);
    const { entries } = (await app.inject('/api/v1/audit')).json<AuditPage>();
    expect(entries[0]).toMatchObject({ person: { name: 'Lea' }, area: 'circuits' });
    return entries[0]!.device;
  };
  const circuit = { name: 'Bay 1', volts: 120 };

  test.each([
    // One hop, two, three; the rightmost that nobody vouches for is the device.
    [[proxy], proxy, '192.0.2.7', '192.0.2.7'],
    [[proxy], proxy, '10.0.0.1, 192.0.2.7', '192.0.2.7'],
    [[proxy, '10.0.0.0/8'], proxy, '192.0.2.7, 10.0.0.1, 10.9.9.9', '192.0.2.7'],
    [['10.0.0.0/8'], '10.200.0.1', '2001:db8::7', '2001:db8::7'],
    [['2001:db8::/32'], '2001:db8::1', '192.0.2.7', '192.0.2.7'],
    [['127.0.0.1'], '::ffff:127.0.0.1', '192.0.2.7', '192.0.2.7'],
    [['::ffff:127.0.0.1'], '127.0.0.1', '192.0.2.7', '192.0.2.7'],
    // It may say that it is this machine: that makes it an address in the list, nothing more.
    [['127.0.0.1'], '127.0.0.1', '127.0.0.1', '127.0.0.1'],
    [['127.0.0.1'], '127.0.0.1', '127.0.0.1, ::1', '::1'],
    // Not declared: what it says about others is not heard.
    [[], proxy, '192.0.2.7', proxy],
    [['10.0.0.0/8'], proxy, '192.0.2.7', proxy],
    [['10.0.0.0/8'], '11.0.0.1', '192.0.2.7', '11.0.0.1'],
    // No address at all.
    [[proxy], proxy, 'unknown', proxy],
    [[proxy], proxy, '<b>x</b>', proxy],
    [[proxy], proxy, '192.0.2.7:1234', proxy],
  ])('%j, from %s, forwarded for "%s": is %s', async (trusted, from, chain, is) => {
    expect(await device(trusted, from, chain)).toBe(is);
  });

  it('has tries of the code of its own', async () => {
    await build({ trusted: [proxy] });
    const attempt = async (chain: string, remoteAddress = proxy) => {
      const asked = { method: 'POST', url: '/api/v1/access', payload: { code: '0' } } as const;
      const headers = { 'x-forwarded-for': chain };
      return (await app.inject({ ...asked, remoteAddress, headers })).statusCode;
    };
    for (let n = 0; n < 10; n++) expect(await attempt('192.0.2.7')).toBe(403);
    expect(await attempt('192.0.2.7')).toBe(429);
    // What it made up itself stands to the left of what the proxy saw.
    expect(await attempt('203.0.113.5, 192.0.2.7')).toBe(429);
    expect(await attempt('192.0.2.8')).toBe(403);
    // Nobody else gets fresh tries by telling another address each time.
    const other = '198.51.100.2';
    for (let n = 0; n < 10; n++) expect(await attempt(`192.0.2.${n}`, other)).toBe(403);
    expect(await attempt('192.0.2.99', other)).toBe(429);
  });
});

describe('a public URL', () => {
  const host = 'shop.example';
  const mark = { 'x-forwarded-for': '192.0.2.7' };
  const publicUrl = 'https://shop.example:8443/';
  const setup = { trusted: ['127.0.0.1'], publicUrl };

  it('is a name that the server goes by, and the only one beside its own', async () => {
    await build(setup);
    const cookie = await enter({ headers: { ...mark, host } });
    const status = async (name: string, more: Headers = mark) => {
      const headers = { ...more, ...cookie, host: name };
      return (await app.inject({ url: '/api/v1/me', headers })).statusCode;
    };
    for (const name of [host, 'Shop.Example', 'shop.example:8443', '127.0.0.1', 'localhost:1'])
      expect([name, await status(name)]).toEqual([name, 200]);
    for (const name of ['evil.example', 'shop.example.evil.example', 'notshop.example']) {
      expect([name, await status(name)]).toEqual([name, 421]);
      expect([name, await status(name, {})]).toEqual([name, 421]);
    }
    // What the proxy says about the name is not asked: the one that was sent decides.
    expect(await status('evil.example', { 'x-forwarded-host': host })).toBe(421);
    expect(await status(host, { 'x-forwarded-host': 'evil.example' })).toBe(200);
  });

  it('is where its own page comes from, whatever Host the proxy sends', async () => {
    await build(setup);
    const status = async (origin: string, name: string) => {
      const headers = { ...mark, origin, host: name };
      const asked = { method: 'POST', url: '/api/v1/access', payload: { code: access.code } };
      return (await app.inject({ ...asked, headers } as object)).statusCode;
    };
    expect(await status('https://shop.example:8443', host)).toBe(204);
    expect(await status('https://shop.example:8443', '127.0.0.1:8080')).toBe(204);
    expect(await status('http://shop.example:8443', '127.0.0.1:8080')).toBe(403);
    expect(await status('https://shop.example', '127.0.0.1:8080')).toBe(403);
    expect(await status('https://evil.example', host)).toBe(403);
    expect(await status('null', host)).toBe(403);
  });

  test.each([
    ['https://shop.example', true],
    ['http://shop.example', undefined],
    [undefined, undefined],
  ])('%s: cookies are secure: %s', async (url, secure) => {
    await build({ ...(url && { publicUrl: url }) });
    const asked = { method: 'POST', url: '/api/v1/access', payload: { code: access.code } };
    const answer = await app.inject({ ...asked, remoteAddress: '192.0.2.7' } as object);
    expect(answer.cookies).toHaveLength(1);
    expect(answer.cookies[0]!.secure).toBe(secure);
    expect(answer.cookies[0]).toMatchObject({ httpOnly: true, sameSite: 'Strict', path: '/' });
  });

  it('lets its page have the live feed, once the code was shown', async () => {
    await build(setup);
    const cookie = await enter({ headers: mark });
    await app.listen({ port: 0, host: '127.0.0.1' });
    const { port } = app.server.address() as { port: number };
    const join = (headers: Headers, origin = 'https://shop.example:8443') =>
      new Promise<string>((resolve) => {
        const url = `ws://127.0.0.1:${port}/api/v1/live`;
        const socket = new WebSocket(url, { headers, origin });
        socket.once('message', (data) => {
          resolve((JSON.parse(String(data)) as { kind: string }).kind);
          socket.close();
        });
        socket.once('error', (error) => resolve(error.message));
      });
    expect(await join({ ...mark, ...cookie, host })).toBe('hello');
    expect(await join({ ...mark, ...cookie })).toBe('hello');
    expect(await join({ ...mark, host })).toContain('401');
    expect(await join({ ...mark })).toContain('401');
    expect(await join({ host })).toContain('401');
    expect(await join({ ...mark, ...cookie }, 'https://evil.example')).toContain('403');
    expect(await join({ ...mark, ...cookie, host: 'evil.example' })).toContain('421');
  });
});
