import { isIP } from 'node:net';
import type { FastifyRequest } from 'fastify';
import type { From } from '../people/who.ts';
import type { Proxies } from './proxies.ts';

/**
 * Headers that proxies add and that no browser sends by itself. One of them is enough: what they
 * say may be forged, that they are there says that this machine did not ask. A program of this
 * machine that sends one is taken for another device, which is the harmless mistake.
 */
const proxyHeaders: readonly { is: RegExp; why: string }[] = [
  { is: /^forwarded$/, why: 'RFC 7239: what is lost on the way through a proxy' },
  { is: /^via$/, why: 'RFC 9110, 7.6.3: each intermediary adds itself' },
  { is: /^cdn-loop$/, why: 'RFC 8586: each network that delivers for others adds itself' },
  { is: /^x-forwarded/, why: 'common practice: -for, -host, -proto, -port, -server, -user …' },
  { is: /^x-original-/, why: 'common practice: what a proxy wrote over, before it did' },
  { is: /^x-real-/, why: 'common practice: the address and port that the proxy saw' },
  {
    is: /(^|-)(client|connecting|remote|user|source)-?(ip|addr|address)$/,
    why: 'common practice, under as many names as there are proxies: the address of who asks',
  },
  {
    is: /^(x-(url-)?scheme|front-end-https)$/,
    why: 'common practice: that TLS ended at the proxy',
  },
];

const loopbackNames = new Set(['localhost', '127.0.0.1', '[::1]', '::1']);

export const isLoopback = (address: string): boolean =>
  address === '::1' || address === 'localhost' || /^(::ffff:)?127\./.test(address);

/** The name in the Host that was sent, without a port; what a proxy says of it is not asked. */
export function hostName(request: FastifyRequest): string {
  const host = hostOf(request);
  const name = host.startsWith('[') ? host.slice(0, host.indexOf(']') + 1) : host.split(':', 1)[0]!;
  return name.toLowerCase();
}

export const hostOf = ({ raw }: FastifyRequest): string => raw.headers.host ?? '';

/** Loopback's names and the address that was reached: no foreign name can lead there. */
export const isOwnName = (request: FastifyRequest): boolean => {
  const name = hostName(request);
  return loopbackNames.has(name) || (name !== '' && name === literal(request.raw.socket));
};

/**
 * Where a request came from: the one place that says "this machine". That is a connection over
 * loopback, by one of this machine's own names, on which nothing tells of a proxy. A proxy on this
 * machine connects over loopback too, and its address says nothing.
 */
export function cameFrom(request: FastifyRequest, proxies: Proxies): From {
  const { remoteAddress = '' } = request.raw.socket;
  const mark = proxyMark(request, proxies);
  const loopback = isLoopback(remoteAddress);
  if (loopback && mark === null && isOwnName(request)) return { device: null, proxied: false };
  if (mark !== null) proxies.tellUndeclared(remoteAddress, mark);
  const proxied = loopback || mark !== null || proxies.isDeclared(remoteAddress);
  // Behind a declared proxy, the last hop that nobody vouches for; "unknown" is no address.
  return { device: isIP(request.ip) === 0 ? remoteAddress : request.ip, proxied };
}

/** What of a request tells that a proxy passed it on; null: nothing does. */
function proxyMark(request: FastifyRequest, { publicUrl }: Proxies): string | null {
  const { headers, httpVersion } = request.raw;
  const header = Object.keys(headers).find((name) => proxyHeaders.some(({ is }) => is.test(name)));
  if (header !== undefined) return header;
  // Browsers speak 1.1 at least. A proxy that was told nothing else may speak 1.0, and add nothing.
  if (httpVersion === '1.0') return 'HTTP/1.0';
  // The page was opened by its public name and asks by another: the Host was written over.
  const { origin = '' } = headers;
  return origin === publicUrl?.origin && !isFrom(origin, hostOf(request)) ? 'origin' : null;
}

/** Whether a page of that origin was opened under that host. */
export const isFrom = (origin: string, host: string): boolean =>
  URL.canParse(origin) && new URL(origin).host === host.toLowerCase();

const literal = ({ localAddress = '' }: { localAddress?: string | undefined }): string =>
  localAddress.startsWith('::ffff:')
    ? localAddress.slice(7)
    : localAddress.includes(':')
      ? `[${localAddress}]`
      : localAddress;
