/* Keeps the bay card's page and its scripts, so that they open without signal. Never keeps data. */
const cacheName = 'idlemark-bay-shell';
const shell = '/bay';
const patienceMs = 3000;

self.addEventListener('install', () => self.skipWaiting());
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('fetch', (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== 'GET' || url.origin !== self.location.origin) return;
  if (request.mode === 'navigate' && url.pathname === shell) {
    event.respondWith(page(request));
  } else if (url.pathname.startsWith('/_next/static/')) {
    event.respondWith(part(request));
  }
});

/** The page names what it is made of; older parts go. */
self.addEventListener('message', (event) => {
  if (event.data?.type === 'made of') event.waitUntil(keepParts(event.data.urls));
});

/** The network's page if it comes soon, else the kept one. A sign-in page is passed on, never kept. */
async function page(request) {
  const fresh = fetch(request).then(async (response) => {
    if (response.status === 200 && !response.redirected) {
      await (await caches.open(cacheName)).put(shell, response.clone());
    }
    return response;
  });
  const kept = await caches.match(shell, { cacheName });
  if (!kept) return fresh;
  const late = new Promise((resolve) => setTimeout(() => resolve(kept), patienceMs));
  return Promise.race([
    fresh.then((response) => (response.status < 500 ? response : kept)),
    late,
  ]).catch(() => kept);
}

/** A part that never changes under its name is taken from the cache; others only without signal. */
async function part(request) {
  const kept = await caches.match(request, { cacheName, ignoreVary: true });
  if (kept?.headers.get('cache-control')?.includes('immutable')) return kept;
  return fetch(request).catch((error) => {
    if (kept) return kept;
    throw error;
  });
}

async function keepParts(urls) {
  const cache = await caches.open(cacheName);
  const wanted = new Set(urls);
  for (const { url } of await cache.keys()) {
    if (new URL(url).pathname !== shell && !wanted.has(url)) await cache.delete(url);
  }
  const isImmutable = async (url) =>
    (await cache.match(url))?.headers.get('cache-control')?.includes('immutable') ?? false;
  for (const url of wanted) {
    if (await isImmutable(url)) continue;
    const response = await fetch(url);
    if (response.ok) await cache.put(url, response);
  }
  if (!(await cache.match(shell))) {
    const response = await fetch(shell);
    if (response.ok && !response.redirected) await cache.put(shell, response);
  }
}
