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
    event.respondWith(page(event));
  } else if (url.pathname.startsWith('/_next/static/')) {
    event.respondWith(part(request));
  }
});

/** The page names what it has loaded since, which its markup does not. */
self.addEventListener('message', (event) => {
  if (event.data?.type === 'made of') event.waitUntil(keepAll(event.data.urls));
});

/** The network's page if it comes soon, else the kept one. A sign-in page is passed on, never kept. */
async function page(event) {
  const kept = await caches.match(shell, { cacheName });
  const fresh = fetch(event.request).then((response) => {
    if (isShell(response)) event.waitUntil(keepShell(response.clone()));
    return kept && response.status >= 500 ? kept : response;
  });
  if (!kept) return fresh;
  const late = new Promise((resolve) => setTimeout(() => resolve(kept), patienceMs));
  return Promise.race([fresh, late]).catch(() => kept);
}

/** A part that never changes under its name is taken from the cache; others only without signal. */
async function part(request) {
  const kept = await caches.match(request, { cacheName, ignoreVary: true });
  if (isImmutable(kept)) return kept;
  return fetch(request).catch((error) => {
    if (kept) return kept;
    throw error;
  });
}

const isShell = (response) => response.status === 200 && !response.redirected;
const isImmutable = (response) =>
  response?.headers.get('cache-control')?.includes('immutable') ?? false;

/** The parts first, so that a page is never kept without what it is made of. */
async function keepShell(response) {
  await keepParts(partsIn(await response.clone().text()));
  await (await caches.open(cacheName)).put(shell, response);
}

const partsIn = (markup) =>
  [...markup.matchAll(/\/_next\/static\/[\w./~%+-]+\.(?:js|css|woff2)/g)].map(([path]) => path);

async function keepParts(paths) {
  const cache = await caches.open(cacheName);
  for (const path of new Set(paths)) {
    if (isImmutable(await cache.match(path))) continue;
    const response = await fetch(path);
    if (response.ok) await cache.put(path, response);
  }
}

/** Keeps page and parts, and lets go the parts of older builds. */
async function keepAll(loaded) {
  const cache = await caches.open(cacheName);
  const response = await fetch(shell);
  if (isShell(response)) await keepShell(response);
  await keepParts(loaded);
  const markup = await (await cache.match(shell))?.text();
  if (!markup) return;
  const wanted = new Set([...partsIn(markup), ...loaded.map((url) => new URL(url).pathname)]);
  for (const { url } of await cache.keys()) {
    const { pathname } = new URL(url);
    if (pathname !== shell && !wanted.has(pathname)) await cache.delete(url);
  }
}
