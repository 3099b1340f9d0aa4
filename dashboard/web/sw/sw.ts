/**
 * Keeps the page's own files, so that it opens without the server and can say so. Never an answer
 * of the API: a figure out of a cache would look live. The page itself is asked of the network
 * first, so that a new build is never hidden behind an old one.
 */
declare const self: ServiceWorkerGlobalScope;
/** Written in by shell-files.ts when the page is built. */
declare const shellFiles: { version: string; paths: string[] };

/** The radio of a hall may hang rather than fail: then the kept page opens. */
const pageWaitMs = 3_000;
const { version, paths } = shellFiles;
const ours = `shell-${version}`;
const kept = new Set(paths);

self.addEventListener('install', (event) => {
  // All or nothing: a shell with a file missing would open to a blank page.
  const fresh = paths.map((path) => new Request(path, { cache: 'reload' }));
  event.waitUntil(
    caches
      .open(ours)
      .then((cache) => cache.addAll(fresh))
      .then(() => self.skipWaiting()),
  );
});

self.addEventListener('activate', (event) => {
  event.waitUntil(forgetOlder().then(() => self.clients.claim()));
});

async function forgetOlder(): Promise<void> {
  for (const name of await caches.keys()) if (name !== ours) await caches.delete(name);
}

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && url.pathname === '/') event.respondWith(page(request));
  else if (url.pathname !== '/' && kept.has(url.pathname)) event.respondWith(file(request));
});

async function page(request: Request): Promise<Response> {
  try {
    const answer = await fetch(request, { signal: AbortSignal.timeout(pageWaitMs) });
    // A proxy whose server is down answers too.
    if (answer.status < 500) return answer;
  } catch {
    // No network, or none in time.
  }
  return (await caches.match('/', { cacheName: ours })) ?? Response.error();
}

/** Names carry their hash or change with the version: what is kept is right. */
async function file(request: Request): Promise<Response> {
  return (await caches.match(request, { cacheName: ours })) ?? fetch(request);
}
