/** What this page is made of, by the browser's own account. */
function partsOfPage(): string[] {
  const loaded = performance.getEntriesByType('resource').map(({ name }) => name);
  const named = [...document.querySelectorAll<HTMLElement>('script[src], link[href]')].map((one) =>
    one instanceof HTMLScriptElement ? one.src : (one as HTMLLinkElement).href,
  );
  const own = `${location.origin}/_next/static/`;
  return [...new Set([...loaded, ...named])].filter((url) => url.startsWith(own));
}

/** Whether the device has the page and all that it is made of, and opens it without signal. */
export async function isPageKept(): Promise<boolean> {
  const kept = await caches.open('idlemark-bay-shell');
  const wanted = ['/bay', ...partsOfPage()];
  const found = await Promise.all(wanted.map((url) => kept.match(url, { ignoreVary: true })));
  return found.every((part) => part !== undefined);
}

export const canKeepPage = (): boolean => 'serviceWorker' in navigator && 'caches' in window;

/** Has the page and its parts kept on the device. Without a worker the card works while it is open. */
export async function registerWorker(): Promise<void> {
  if (!canKeepPage()) return;
  await navigator.serviceWorker.register('/sw.js');
  const { active } = await navigator.serviceWorker.ready;
  active?.postMessage({ type: 'made of', urls: partsOfPage() });
}
