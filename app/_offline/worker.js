/* Keeps the bay card's page and its scripts, so that they open without signal. Never keeps data. */
const cacheName = 'idlemark-bay-shell';
const shell = '/bay';

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

/** The page names what it has loaded since, which its markup does not. */
self.addEventListener('message', (event) => {
  if (event.data?.type === 'made of') event.waitUntil(keepAll(event.data.urls));
});

/** How long signal may be slow before the kept page opens in its place, ms. */
const patience = 800;

/**
 * The desk's page, which carries the list of whoever is signed in; the kept one where signal is slow
 * or gone, or the session has ended, so that what the device keeps stays in reach.
 */
async function page(request) {
  const fresh = fetch(request);
  const kept = await caches.match(shell, { cacheName });
  if (!kept) return fresh;
  const late = new Promise((resolve) => setTimeout(resolve, patience, kept));
  const asked = fresh.then((response) => (isShell(response) ? response : kept)).catch(() => kept);
  return Promise.race([asked, late]);
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

/** A script names those that it loads later: they are kept too, and theirs. Returns all that is kept. */
async function keepParts(paths) {
  const cache = await caches.open(cacheName);
  const wanted = new Set(paths);
  for (const path of wanted) {
    let part = await cache.match(path);
    if (!isImmutable(part)) {
      part = await fetch(path);
      if (part.ok) await cache.put(path, part.clone());
    }
    if (part.ok && path.endsWith('.js')) {
      for (const later of partsLoadedBy(await part.text())) wanted.add(later);
    }
  }
  return wanted;
}

const partsLoadedBy = (script) =>
  [...script.matchAll(/["'`](static\/chunks\/[\w./~-]+\.(?:js|css))["'`]/g)].map(
    ([, path]) => `/_next/${path}`,
  );

/** Keeps page and parts, and lets go the parts of older builds. */
async function keepAll(loaded) {
  const cache = await caches.open(cacheName);
  const response = await fetch(shell, { headers: { 'x-page-to-keep': '1' } });
  if (isShell(response)) await keepShell(response);
  const markup = await (await cache.match(shell))?.text();
  if (!markup) return;
  const paths = loaded.map((url) => new URL(url).pathname);
  const wanted = await keepParts([...partsIn(markup), ...paths]);
  for (const { url } of await cache.keys()) {
    const { pathname } = new URL(url);
    if (pathname !== shell && !wanted.has(pathname)) await cache.delete(url);
  }
}
